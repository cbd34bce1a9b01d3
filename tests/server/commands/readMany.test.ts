import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { DEMO_FOLDER } from '../../helpers/serverUnderTest.ts';
import { answerOf, longestLine, scratch } from './readingFile.ts';

const file = scratch();
const folder = mkdtempSync(join(tmpdir(), 'tonestep-many-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const NAMES = ['hemp-banner-blue', 'silk-scarf-plum'] as const;
const photo = (name: string) => join(folder, `${name}.jpg`);

beforeAll(() => {
  mkdirSync(folder, { recursive: true });
  for (const name of NAMES)
    for (const ending of ['jpg', 'strip.json', 'marks.json'])
      copyFileSync(join(DEMO_FOLDER, `${name}.${ending}`), join(folder, `${name}.${ending}`));
});

describe('tonestep read with several photos', () => {
  test('reads each by what lies beside it, as it is read alone, in the order in which they were named', async () => {
    const many = await answerOf('read', ...NAMES.map(photo), '--target', 'depth=80%');
    expect(many.map((one: { photo: string }) => one.photo)).toEqual(NAMES.map(photo));
    for (const [i, name] of NAMES.entries()) {
      const alone = await answerOf(
        'read',
        photo(name),
        '--strip',
        join(folder, `${name}.strip.json`),
        '--marks',
        join(folder, `${name}.marks.json`),
        '--target',
        'depth=80%',
      );
      expect(many[i].reading).toEqual(alone);
    }
  });

  test('goes on where one is no photo, one is not there and one has no strip beside it, and ends with 2', async () => {
    const words = [
      'read',
      file('letter.jpg', 'no photo'),
      photo(NAMES[0]),
      'nowhere.jpg',
      file('lonely.jpg', 'no photo either'),
    ];
    file('letter.strip.json', { card: 'grey-18', steps: [{ seconds: 10 }, { seconds: 20 }] });
    file('nowhere.strip.json', { card: 'grey-18', steps: [{ seconds: 10 }, { seconds: 20 }] });
    const { stdout, stderr, exit } = await runCommandLine([...words, '--json']);
    expect(exit).toBe(2);
    expect(stderr).toBe('tonestep: 3 of 4 photos could not be read; the answer says why.\n');
    const many = JSON.parse(stdout);
    expect(many.map((one: { error?: { code: string } }) => one.error?.code)).toEqual([
      'photo-format-unsupported',
      undefined,
      'file-unreadable',
      'file-unreadable',
    ]);
    expect(many[1].reading.advice.roundedSeconds).toBeGreaterThan(0);
    expect(many[3].error.message).toContain('lonely.strip.json beside it, or add --strip');
  });

  test('prints one block a photo and a summary that ends with the count, within 80 columns', async () => {
    const { stdout, exit } = await runCommandLine([
      'read',
      photo(NAMES[0]),
      file('torn.jpg', 'no photo'),
      '--strip',
      join(folder, `${NAMES[0]}.strip.json`),
    ]);
    expect(exit).toBe(2);
    expect(stdout).toContain(`\n${'-'.repeat(Math.min(80, photo(NAMES[0]).length))}\n`);
    expect(stdout.match(/^Expose \d\d:\d\d/gm)).toHaveLength(1);
    expect(stdout).toMatch(/^Not read: /m);
    expect(stdout.trimEnd().split('\n').at(-1)).toBe('1 read, 1 not read.');
    expect(longestLine(stdout.split('photo  ')[0])).toBeLessThanOrEqual(80);
  });

  test.each([
    ['--marks', 'm.json'],
    ['--also', 'other.jpg'],
    ['--with', 'reading.json'],
  ])('refuses %s, which belongs to one strip, and points to --also', async (option, value) => {
    const { stderr, exit } = await runCommandLine(['read', ...NAMES.map(photo), option, value]);
    expect(exit).toBe(2);
    expect(stderr).toContain(`${option} goes with one`);
    expect(stderr).toContain('--also PHOTO');
  });
});

test('tonestep read with one photo takes the strip and the marks that lie beside it', async () => {
  const beside = await answerOf('read', photo(NAMES[0]));
  const named = await answerOf(
    'read',
    photo(NAMES[0]),
    '--strip',
    join(folder, `${NAMES[0]}.strip.json`),
    '--marks',
    join(folder, `${NAMES[0]}.marks.json`),
  );
  expect(beside).toEqual(named);
});
