import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { workshopOf } from '../../../server/commands/workshop.ts';
import { THRESHOLDS } from '../../../web/settings.ts';

const photo = join(import.meta.dirname, '../../../docs/examples/hemp-banner-rust.jpg');
let folder = '';
const before = process.env.TONESTEP_DATA;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-workshop-'));
  process.env.TONESTEP_DATA = join(folder, 'data');
});
afterAll(() => {
  if (before === undefined) delete process.env.TONESTEP_DATA;
  else process.env.TONESTEP_DATA = before;
  rmSync(folder, { recursive: true, force: true });
});

describe('--timer-step and --verdict', () => {
  it('are nothing where they are not typed', () => {
    expect(workshopOf({})).toEqual({});
  });

  it('take a timer of 0,5-second steps as 0.5 and two thresholds, one with a comma', () => {
    expect(
      workshopOf({ 'timer-step': '0.5', verdict: ['fullWithinL=1,5', ' overexposedStops = 0.33 '] }),
    ).toEqual({ timerStepSeconds: 0.5, verdictSettings: { fullWithinL: 1.5, overexposedStops: 0.33 } });
  });

  it('know every threshold of the page’s settings', () => {
    for (const [name, { usual }] of Object.entries(THRESHOLDS))
      expect(workshopOf({ verdict: [`${name}=${usual}`] })).toEqual({ verdictSettings: { [name]: usual } });
  });

  it.each([
    [{ verdict: ['full'] }, /--verdict "full" is not understood/],
    [{ verdict: ['fullWithinL=90'] }, /--verdict: fullWithinL/],
    [{ verdict: ['depth=3'] }, /depth/],
    [{ 'timer-step': '0' }, /--timer-step needs a number of at least 0\.1/],
  ] as const)('%j is refused and named', (values, said) => {
    expect(() => workshopOf(values)).toThrow(said);
  });
});

describe('the book on the command line', () => {
  it('keeps and reads again by the workshop’s settings; without --again they are refused', async () => {
    const json = async (...words: string[]) =>
      JSON.parse((await runCommandLine([...words, '--json'])).stdout);
    const kept = await json('keep', photo, '--target', 'depth=50%', '--timer-step', '17');
    expect(kept.line.roundedSeconds % 17).toBe(0);
    expect(kept.settings.options).toEqual({ timerStepSeconds: 17 });
    const again = await json('book', 'latest', '--again', '--timer-step', '13', '--verdict', 'fullWithinL=4');
    expect(again.line.roundedSeconds % 13).toBe(0);
    expect(again.settings.options).toEqual({ timerStepSeconds: 13, verdictSettings: { fullWithinL: 4 } });
    const refused = await runCommandLine(['book', 'latest', '--timer-step', '13']);
    expect(refused.exit).toBe(2);
    expect(refused.stderr).toMatch(/go with --again/);
  });
});
