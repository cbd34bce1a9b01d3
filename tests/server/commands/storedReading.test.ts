import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { parseStoredReading } from '../../../server/commands/storedReading.ts';
import { runs } from '../../helpers/runs.ts';
import { knownReading, scratch } from './readingFile.ts';

const file = scratch();

const refusalOf = (change: (reading: ReturnType<typeof copy>) => void): string => {
  const reading = copy();
  change(reading);
  try {
    parseStoredReading('dye.json', reading);
  } catch (error) {
    return (error as Error).message;
  }
  return 'accepted';
};

// biome-ignore lint/suspicious/noExplicitAny: broken on purpose below
const copy = (): any => JSON.parse(JSON.stringify(knownReading()));

describe('a stored reading', () => {
  test('is accepted as read --json prints it, and as an outcome', () => {
    expect(parseStoredReading('a/indigo.json', copy())).toMatchObject({
      name: 'indigo',
      reading: { curve: { kind: 'fitted', curve: { baseL: 88 } } },
    });
    expect(refusalOf((r) => (r.curve = { kind: 'fitted', curve: r.curve }))).toBe('accepted');
  });

  test.each([
    ['no curve', (r) => delete r.curve, /curve/],
    ['a curve of no known model', (r) => (r.curve.shape.model = 'spline'), /shape/],
    ['a negative half time', (r) => (r.curve.shape.halfSeconds = -5), /shape\.halfSeconds/],
    ['a covariance of another size', (r) => r.curve.covarianceL.pop(), /covariance/],
    ['used points that are not there', (r) => (r.curve.used = [0, 99]), /points used/],
    ['an L* of null', (r) => (r.curve.points[2].L = null), /points\[2\]\.L/],
    ['a step without uncertainty', (r) => (r.steps[1].uL = 0), /steps\[1\]\.uL/],
    ['a refusal', (r) => (r.error = { code: 'photo-damaged' }), /refusal/],
  ] as readonly [string, (r: ReturnType<typeof copy>) => void, RegExp][])(
    'with %s is refused, with the place',
    (_, change, why) => {
      const refusal = refusalOf(change);
      expect(refusal).toMatch(/^dye\.json is not a reading: /);
      expect(refusal).toMatch(why);
    },
  );

  test('without a curve says why the strip gave none', async () => {
    const blank = file('blank.json', {
      ...copy(),
      curve: { model: null, kind: 'blank', message: 'Nothing on this strip came up.' },
    });
    const { stderr, exit } = await runCommandLine(['plan', '--curve', blank]);
    expect(exit).toBe(2);
    expect(stderr).toContain('Nothing on this strip came up.');
  });

  test.each([
    [runs('spoilt readings to plan', 150, 30), ['plan', '--curve']],
    [runs('spoilt readings to transfer', 25, 12), ['transfer', '--scrap', '90=60±1', '--curve']],
  ])(
    'spoilt anywhere is refused or answered, never a fault of our own: %i spoilt files to %j',
    async (numRuns, words) => {
      const paths: (readonly (string | number)[])[] = [];
      const walk = (value: unknown, path: readonly (string | number)[]): void => {
        if (path.length > 0) paths.push(path);
        if (typeof value === 'object' && value !== null)
          for (const [key, inner] of Object.entries(value))
            walk(inner, [...path, Array.isArray(value) ? Number(key) : key]);
      };
      walk(copy(), []);
      const spoilt = fc.constantFrom<unknown>(null, -1, 0, 1e308, 1e-308, 'x', [], {}, true);
      const exits = new Set<number>();
      await fc.assert(
        fc.asyncProperty(fc.constantFrom(...paths), spoilt, async (path, value) => {
          const reading = copy();
          path.slice(0, -1).reduce((at, key) => at[key], reading)[path[path.length - 1]] = value;
          const { exit, stderr } = await runCommandLine([...words, file('spoilt.json', reading)]);
          exits.add(exit);
          expect(exit, stderr).not.toBe(1);
        }),
        { numRuns, seed: 4, endOnFailure: true },
      );
      expect([...exits].sort()).toEqual([0, 2]);
    },
  );

  test.each([
    ['missing', 'nowhere.json', 'file-unreadable'],
    ['a folder', '.', 'file-unreadable'],
    ['not JSON', file('words.json', 'hello'), 'file-invalid'],
    ['empty', file('empty.json', ''), 'file-invalid'],
    ['a list', file('list.json', '[]'), 'file-invalid'],
  ])('that is %s is refused by every command that takes one', async (_, path, code) => {
    const good = file('good.json', copy());
    const lines = [
      ['plan', '--curve', path],
      ['compare', good, path],
      ['transfer', '--curve', path, '--scrap', '90=60±1'],
      ['transfer', '--curve', good, path],
      ['drift', '--curve', good, path],
      ['evenness', path, '--curve', good],
    ];
    for (const words of lines) {
      const { stdout, exit } = await runCommandLine([...words, '--json']);
      expect(exit).toBe(2);
      expect(JSON.parse(stdout)).toMatchObject({ error: { code } });
    }
  });
});
