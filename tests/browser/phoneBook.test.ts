import { networkInterfaces } from 'node:os';
import { describe, expect, it } from 'vitest';
import { lanAddresses } from '../../server/lan.ts';
import { violations } from './axe.ts';
import { builtPage } from './builtPage.ts';
import { DESK, PHONE } from './openPage.ts';

// A machine without a network has no address that a phone could open.
describe.skipIf(lanAddresses(networkInterfaces()).length === 0)('the book on a paired phone', () => {
  const built = builtPage({ own: { words: ['--lan'] } });

  it('is shut, and says where to open it; opens when the computer ticks it, and shuts again', async () => {
    const { page: desk } = await built.open('/#/read', DESK);
    await desk.getByRole('button', { name: 'Use my phone as the camera' }).click();
    const code = (await desk.locator('.pair-code').textContent()) ?? '';
    const address = (await desk.locator('.pairing code').first().textContent()) ?? '';
    const { page: phone } = await built.open(`${address}/#pair=${code}`, PHONE);
    await phone.getByRole('heading', { name: 'This phone is paired.' }).waitFor();

    await phone.goto(`${address}/#/book`);
    await phone.getByText('The book is not open to this phone.', { exact: true }).waitFor();
    expect(await phone.getByText('choose that it may use the book').count()).toBeGreaterThan(0);
    expect(await violations(phone)).toEqual([]);

    const way = phone.getByRole('link', { name: 'Book' });
    expect(await way.textContent()).toBe('Book (not open to this phone)');

    const tick = desk.getByRole('checkbox', { name: 'May use the book' });
    expect(await tick.isChecked()).toBe(false);
    await tick.check();
    expect(await violations(desk)).toEqual([]);
    await way.tap();
    await expect.poll(() => way.textContent()).toBe('Book');
    await phone.reload();
    await phone
      .getByText(/The book is empty|Nothing is kept/)
      .first()
      .waitFor();

    await tick.uncheck();
    await phone.reload();
    await phone.getByText('The book is not open to this phone.', { exact: true }).waitFor();
  });
});
