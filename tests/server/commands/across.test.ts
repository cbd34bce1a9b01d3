import { describe, expect, test } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { INDIGO, knownL, knownSeconds } from '../../analysis/across/knownCurve.ts';
import { answerOf, knownReading, longestLine, scratch, textOf } from './readingFile.ts';

// Closed forms of the logistic: L* falls from 88 to 30 around 120 s with n = 1.5, so half depth is L* 59 at 120 s and
// 50 % to 80 % depth are (0.8 / 0.2)^(1/1.5) apart in time.
const file = scratch();
const indigo = file('indigo.json', knownReading());
const fast = { ...INDIGO, halfSeconds: 60, deepestL: 40 };
const madder = file('madder.json', knownReading(fast, 'madder'));

interface Figure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}
const expectInside = ({ low, high }: Figure, truth: number) => {
  expect(low).toBeLessThan(truth);
  expect(high).toBeGreaterThan(truth);
};

describe('tonestep compare', () => {
  test('finds a dye of half the half-time one stop faster and 10 L* paler, and calls both different', async () => {
    const answer = await answerOf('compare', indigo, madder, '--target', 'L=59');
    expect(answer).toMatchObject({ kind: 'compared', depthPercent: 50, targetL: 59 });
    const [{ differences, sentence }] = answer.pairs;
    const of = (figure: string) => differences.find((d: { figure: string }) => d.figure === figure);
    expect(of('secondsToDepth').difference.value).toBeCloseTo(1, 6);
    expect(of('secondsToDepth').verdict).toBe('different');
    expectInside(of('secondsToDepth').difference, 1);
    expect(of('deepestL').difference.value).toBeCloseTo(10, 6);
    expect(of('exposureScaleStops').verdict).toBe('not-separable');
    const toTarget = Math.log2(knownSeconds(INDIGO, 0.5) / knownSeconds(fast, (88 - 59) / (88 - 40)));
    expect(of('secondsToTarget').difference.value).toBeCloseTo(toTarget, 6);
    expect(sentence).toContain('Madder is 1.00 stops faster');
  });

  test('prints a line per dye and figure, times in whole seconds, within 80 columns', async () => {
    const text = await textOf('compare', indigo, madder, '--depth', '80%');
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    expect(text).toContain('Time to 80 % depth');
    expect(text).toMatch(/^ {4}indigo {2}05:02 \(\d\d:\d\d to \d\d:\d\d\)$/m);
    expect(text).toMatch(/^ {4}→ \+1\.00 stops .*: different$/m);
  });

  test('answers that strips on two cloths are not comparable, unless told that the cloth is the same', async () => {
    const reading = knownReading(fast, 'madder');
    const other = file('other.json', { ...reading, strip: { ...reading.strip, cloth: 'Silk, batch 2' } });
    expect(await answerOf('compare', indigo, other)).toMatchObject({ kind: 'not-comparable' });
    expect(await answerOf('compare', indigo, other, '--same')).toMatchObject({ kind: 'compared' });
  });

  test('tells two strips of one dye apart by their files', async () => {
    const again = file('again.json', knownReading(fast));
    const { dyes } = await answerOf('compare', indigo, again);
    expect(dyes.map((dye: { name: string }) => dye.name)).toEqual(['indigo (indigo)', 'indigo (again)']);
  });

  test.each([
    [['--target', 'full'], 'target-invalid'],
    [['--depth', '100'], 'comparison-invalid'],
    [['--depth', 'half'], 'usage'],
  ])('refuses %j with code %s', async (words, code) => {
    const { stdout, exit } = await runCommandLine(['compare', indigo, madder, ...words, '--json']);
    expect(exit).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe(code);
  });
});

describe('tonestep transfer', () => {
  test('reads a scrap that 60 s bring to L* 59 as one stop faster and halves the recorded time', async () => {
    const answer = await answerOf('transfer', '--curve', indigo, '--scrap', '1 min=59±0.5');
    expect(answer.kind).toBe('transferred');
    expect(answer.shiftStops.value).toBeCloseTo(1, 9);
    expectInside(answer.shiftStops, 1);
    expect(answer.restated).toMatchObject({ targetL: 59, recordedSeconds: 120, roundedSeconds: 60 });
  });

  test('takes the scraps of a control reading, its exposed steps alone', async () => {
    const control = knownReading();
    const steps = [30, 60].map((seconds) => ({ seconds, L: knownL(INDIGO, 2 * seconds), uL: 0.5 }));
    const path = file('control.json', {
      ...control,
      steps: [{ seconds: 0, L: 88, uL: 0.5 }, ...steps],
      curve: { model: null, kind: 'too-few-steps', message: 'Two steps and a base are needed.' },
    });
    const answer = await answerOf('transfer', path, '--curve', indigo, '--target', 'depth=80%');
    expect(answer.scraps.map((scrap: { seconds: number }) => scrap.seconds)).toEqual([30, 60]);
    expect(answer.shiftStops.value).toBeCloseTo(1, 6);
    expect(answer.restated.now.seconds.value).toBeCloseTo(knownSeconds(INDIGO, 0.8) / 2, 4);
    expect(answer.warnings).toEqual([]);
  });

  test('warns of a control on another cloth', async () => {
    const reading = knownReading();
    const path = file('cotton.json', { ...reading, strip: { ...reading.strip, cloth: 'cotton' } });
    const { warnings } = await answerOf('transfer', path, '--curve', indigo);
    expect(warnings.map((w: { code: string }) => w.code)).toContain('other-cloth');
  });

  test('answers what to expose instead where the scrap is too deep to tell', async () => {
    const answer = await answerOf('transfer', '--curve', indigo, '--scrap', '600=31±0.5');
    expect(answer).toMatchObject({ kind: 'not-determined', restated: null });
    const text = await textOf('transfer', '--curve', indigo, '--scrap', '600=31±0.5');
    expect(text).toContain('too deep to tell');
    expect(text).toContain('a quarter of the time');
  });

  test('prints the scrap, the shift and the time to set', async () => {
    const text = await textOf('transfer', '--curve', indigo, '--scrap', '60=59+-0,5');
    expect(text).toMatch(/^01:00 {2}59\.0 {3}50 % {2}\+1\.00 stop ± 0\.0\d$/m);
    expect(text).toMatch(/^Expose 01:00 {3}\(90 % interval 00:\d\d to 01:\d\d\)$/m);
    expect(longestLine(text)).toBeLessThanOrEqual(80);
  });

  test.each(['90', '90=', '90=45', '90=45±0', '0=45±1', 'x=45±1', '90=450±1', '90=45±-1'])(
    'refuses --scrap %s',
    async (scrap) => {
      const { exit, stderr } = await runCommandLine(['transfer', '--curve', indigo, '--scrap', scrap]);
      expect(exit).toBe(2);
      expect(stderr).toContain('90=45.2±0.6');
    },
  );
});

describe('tonestep drift', () => {
  const day = (i: number) => `2025-03-${String(i + 1).padStart(2, '0')}`;
  const notebook = (name: string, shifts: readonly number[]) =>
    file(name, { records: shifts.map((shiftStops, i) => ({ date: day(i), setup: 'tubes 1', shiftStops })) });

  // NIST/SEMATECH e-Handbook 6.3.2.2 (second-hand): flowrate of ten batches, here less 50; centre 50.81, mean moving
  // range 1.8778, limits 55.8041 and 45.8159.
  const NIST = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
  const flow = NIST.map((value) => Number((value - 50).toFixed(1)));

  test('charts the worked example of NIST: centre 50.81, limits 45.8159 and 55.8041', async () => {
    const { individuals } = await answerOf('drift', notebook('nist.json', flow));
    expect(individuals.mean + 50).toBeCloseTo(50.81, 6);
    // The handbook rounds 3 / 1.128 and the mean range, hence half a hundredth.
    expect(Math.abs(individuals.lower + 50 - 45.8159)).toBeLessThan(0.005);
    expect(Math.abs(individuals.upper + 50 - 55.8041)).toBeLessThan(0.005);
  });

  test('puts records in the order of their dates', async () => {
    const mixed = file('mixed.json', {
      records: flow.map((shiftStops, i) => ({ date: day(i), setup: 't', shiftStops })).reverse(),
    });
    const { records } = await answerOf('drift', mixed);
    expect(records.map((r: { shiftStops: number }) => r.shiftStops)).toEqual(flow);
  });

  test('marks the scrap 0.4 stop slow in the chart and says to repeat it', async () => {
    const wobble = [0.02, -0.03, 0.04, -0.01, -0.05, 0.03, 0.01, -0.02, 0.05, -0.04, 0.02, -0.03];
    const text = await textOf('drift', notebook('jump.json', [...wobble, ...wobble, -0.4]));
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    expect(text).toMatch(/^ {2}25 {2}2025-03-25 {2}−0\.40 .*● .*!$/m);
    expect(text).toContain('Repeat it');
  });

  test('works out shifts from scraps against the recorded curve, and leaves out one too deep to tell', async () => {
    const scrap = (L: number) => [{ seconds: 60, L, uL: 0.5 }];
    const records = [...new Array(8).fill(59), 30.5].map((L, i) => ({ date: day(i), scraps: scrap(L) }));
    const path = file('scraps.json', { records });
    const answer = await answerOf('drift', path, '--curve', indigo);
    expect(answer.records).toHaveLength(8);
    for (const record of answer.records) expect(record.shiftStops).toBeCloseTo(1, 9);
    expect(answer.warnings).toMatchObject([{ code: 'control-left-out' }]);
    expect(answer.warnings[0].message).toContain('2025-03-09');
    const { exit, stderr } = await runCommandLine(['drift', path]);
    expect(exit).toBe(2);
    expect(stderr).toContain('--curve');
  });

  test('takes readings of control scraps in place of a notebook, in the order given', async () => {
    const answer = await answerOf('drift', '--curve', indigo, madder, indigo);
    expect(answer).toMatchObject({ kind: 'gathering', needed: 8 });
    expect(answer.records.map((r: { file: string }) => r.file)).toEqual([madder, indigo]);
    expect(answer.records[1].shiftStops).toBeCloseTo(0, 6);
    expect(answer.warnings).toMatchObject([{ code: 'other-dye' }]);
  });

  test.each([
    ['no records', { records: [] }],
    ['a day that is not in the calendar', { records: [{ date: '2025-02-30', shiftStops: 0 }] }],
    [
      'a shift and scraps at once',
      { records: [{ date: day(0), shiftStops: 0, scraps: [{ seconds: 1, L: 5, uL: 1 }] }] },
    ],
    ['neither', { records: [{ date: day(0) }] }],
    ['a shift that is no number', { records: [{ date: day(0), shiftStops: 'slow' }] }],
  ])('refuses a notebook with %s', async (_, content) => {
    const { exit, stdout } = await runCommandLine(['drift', file('wrong.json', content), '--json']);
    expect(exit).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe('file-invalid');
  });
});

describe('tonestep evenness', () => {
  /** L* of a sheet exposed for 120 s under this share of light in each column, by the formula itself. */
  const sheet = (rows: number, shares: readonly number[]) => ({
    uL: 0.5,
    cells: Array.from({ length: rows }, () => shares.map((share) => knownL(INDIGO, 120 * share))),
  });
  const falling = [1, 1, 0.99, 0.96, 0.9, 0.8];

  test('maps light of 100 % to 80 % from left to right: ratio 1.25 and the right side low', async () => {
    const path = file('falling.json', sheet(5, falling));
    const map = await answerOf('evenness', path, '--curve', indigo);
    expect(map.kind).toBe('map');
    expect(map.doseRatio.value).toBeGreaterThan(1.2);
    expect(map.doseRatio.value).toBeLessThan(1.3);
    expect(map.pattern).toMatchObject({ code: 'one-side-low', where: 'right side' });
    const narrow = await answerOf('evenness', path, '--curve', indigo, '--within', '±5 %');
    expect(narrow.tolerancePercent).toBe(5);
    expect(narrow.usableShare.value).toBeLessThan(map.usableShare.value);
  });

  test('prints the sheet as it lay, what can be used in brackets, within 80 columns', async () => {
    const text = await textOf('evenness', file('falling.json', sheet(5, falling)), '--curve', indigo);
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    const rows = text.split('\n').filter((line) => line.includes('['));
    expect(rows.slice(1)).toHaveLength(5);
    expect(rows[1].match(/\d+/g)).toHaveLength(6);
    expect(rows[1]).toMatch(/\[\d+\] {0,2}8\d$/);
  });

  test('prints a sign per cell where 20 columns leave no room for numbers', async () => {
    const wide = sheet(
      4,
      Array.from({ length: 20 }, (_, i) => 1 - 0.3 * (i / 19)),
    );
    const text = await textOf('evenness', file('wide.json', wide), '--curve', indigo);
    expect(text).toMatch(/^\+*=+−+$/m);
  });

  test('takes single uncertainties and cells that can not be read', async () => {
    const { cells } = sheet(4, [1, 1, 1, 1, 1]);
    const mixed = cells.map((row, r) =>
      row.map((L, c) => (r === 0 && c === 0 ? null : r === 1 ? { L, uL: 0.3 } : L)),
    );
    const map = await answerOf('evenness', file('mixed.json', { cells: mixed }), '--curve', indigo);
    expect(map).toMatchObject({ kind: 'map', pattern: { code: 'even' } });
    expect(map.relativeU[0][0]).toBeNull();
    // Without "uL" a cell counts ± 0.5 L*.
    expect(map.relativeU[2][0] / map.relativeU[1][0]).toBeCloseTo(0.5 / 0.3, 6);
  });

  test('answers how to expose again where the sheet is too deep', async () => {
    const deep = file('deep.json', sheet(4, [20, 20, 20, 20]));
    expect(await answerOf('evenness', deep, '--curve', indigo)).toMatchObject({ kind: 'not-readable' });
    expect(await textOf('evenness', deep, '--curve', indigo)).toContain('half the time');
  });

  test.each([
    [
      'rows of unlike length',
      {
        cells: [
          [50, 50, 50],
          [50, 50],
          [50, 50, 50],
        ],
      },
      'comparison-invalid',
    ],
    [
      'two rows only',
      {
        cells: [
          [50, 50, 50],
          [50, 50, 50],
        ],
      },
      'comparison-invalid',
    ],
    ['a word for a cell', { cells: [['dark']] }, 'file-invalid'],
    ['no cells', {}, 'file-invalid'],
    ['an uncertainty of 0', { uL: 0, cells: [[50]] }, 'file-invalid'],
  ])('refuses %s', async (_, content, code) => {
    const { exit, stdout } = await runCommandLine([
      'evenness',
      file('wrong.json', content),
      '--curve',
      indigo,
      '--json',
    ]);
    expect(exit).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe(code);
  });
});
