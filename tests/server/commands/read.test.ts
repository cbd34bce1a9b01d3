import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { z } from 'zod';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { read } from '../../../server/commands/read.ts';
import { DEMO_FOLDER } from '../../helpers/serverUnderTest.ts';
import { answerOf, longestLine, scratch, textOf } from './readingFile.ts';

const file = scratch();
const PHOTO = join(DEMO_FOLDER, 'hemp-banner-blue.jpg');
const STRIP = join(DEMO_FOLDER, 'hemp-banner-blue.strip.json');
const MARKS = join(DEMO_FOLDER, 'hemp-banner-blue.marks.json');
const blue = (...words: readonly string[]) => ['read', PHOTO, '--strip', STRIP, '--marks', MARKS, ...words];

const quad = z.tuple([z.tuple([z.number(), z.number()]), z.any(), z.any(), z.any()]);
/** What users' scripts were promised; anything beside it is allowed. */
const promised = z.object({
  steps: z
    .array(
      z.object({
        seconds: z.number(),
        L: z.number(),
        a: z.number(),
        b: z.number(),
        uL: z.number().positive(),
        verdict: z.enum(['washed-out', 'building', 'full-depth', 'overexposed']),
      }),
    )
    .length(7),
  curve: z.object({ model: z.string() }),
  advice: z.object({
    status: z.enum(['inside', 'beyond', 'unattainable', 'too-few-steps', 'count-differs']),
    seconds: z.number(),
    low: z.number(),
    high: z.number(),
    roundedSeconds: z.number(),
  }),
  illumination: z.object({ method: z.string() }),
  marks: z.object({
    card: z.array(z.object({ name: z.string(), quad })).length(3),
    steps: z.array(z.object({ seconds: z.number(), quad })).length(7),
  }),
  warnings: z.array(z.object({ code: z.string(), message: z.string() })),
  methodVersion: z.string(),
});

/** The renderer's own truth about the photo: it shares no code with the reading. */
const truth = JSON.parse(readFileSync(join(DEMO_FOLDER, 'manifest.json'), 'utf8')).photos[0].truth;

// biome-ignore lint/suspicious/noExplicitAny: a JSON answer
let toL45: any;
beforeAll(async () => {
  toL45 = await answerOf(...blue('--target', 'L=45'));
}, 30_000);

describe('tonestep read', () => {
  test('prints the JSON promised to scripts, curve laid open', () => {
    expect(() => promised.parse(toL45)).not.toThrow();
    expect(toL45.advice.target).toEqual({ kind: 'L', L: 45 });
  });

  test("answers L* 45 within 0.15 stop of the photo's truth, interval around it, L* of the steps within 2", () => {
    const [[before, after]] = truth.steps.flatMap((s: { L: number }, i: number) =>
      s.L > 45 && truth.steps[i + 1]?.L <= 45 ? [[s, truth.steps[i + 1]]] : [],
    );
    // Between two true steps 0.8 stop apart a straight line in log time is near enough for this.
    const share = (before.L - 45) / (before.L - after.L);
    const seconds = before.seconds * (after.seconds / before.seconds) ** share;
    expect(Math.abs(Math.log2(toL45.advice.seconds / seconds))).toBeLessThan(0.15);
    expect(toL45.advice.low).toBeLessThan(toL45.advice.seconds);
    expect(toL45.advice.high).toBeGreaterThan(toL45.advice.seconds);
    toL45.steps.forEach((step: { L: number }, i: number) => {
      expect(Math.abs(step.L - truth.steps[i].L)).toBeLessThan(2);
    });
  });

  test('prints a bar and a verdict per step and the time within 80 columns, times in whole seconds', async () => {
    const text = await textOf(...blue('--target', 'depth=80%'));
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    const rows = text.split('\n').filter((line) => /█/.test(line));
    expect(rows).toHaveLength(7);
    for (const row of rows)
      expect(row).toMatch(
        /^ *(base|\d\d:\d\d) {2}█+·+ {2,}\d\d\.\d {2,}\d\.\d {2}(washed out|building|full depth|overexposed)$/,
      );
    const bars = rows.map((row) => row.match(/█/g)!.length);
    expect(bars).toEqual(bars.toSorted((a, b) => a - b));
    expect(text).toMatch(/^Expose \d\d:\d\d {3}\(90 % interval \d\d:\d\d to \d\d:\d\d\)$/m);
    expect(text).not.toMatch(/\d\d:\d\d\.\d/);
    expect(text).toContain('80 % depth');
    expect(text).toContain('test on a scrap');
  });

  test('takes "full" and a timer of 10 s, and says where the interval is open', async () => {
    const full = await answerOf(...blue('--target', 'full', '--timer-step', '10'));
    expect(full.advice.target).toEqual({ kind: 'full' });
    expect(full.advice.roundedSeconds % 10).toBe(0);
    const text = await textOf(...blue());
    const interval = full.advice.highOpen ? /\d\d:\d\d or longer\)/ : /\d\d:\d\d to \d\d:\d\d\)/;
    expect(text).toMatch(interval);
  });

  test('is a reading also where two scraps are too few, with what to add', async () => {
    const strip = JSON.parse(readFileSync(STRIP, 'utf8'));
    const marks = JSON.parse(readFileSync(MARKS, 'utf8'));
    const only = (seconds: number) => seconds === 0 || seconds === 105;
    const words = [
      'read',
      PHOTO,
      '--strip',
      file('one.strip.json', {
        ...strip,
        steps: strip.steps.filter((s: { seconds: number }) => only(s.seconds)),
      }),
      '--marks',
      file('one.marks.json', {
        ...marks,
        steps: marks.steps.filter((s: { seconds: number }) => only(s.seconds)),
      }),
    ];
    const answer = await answerOf(...words);
    expect(answer.advice.status).toBe('too-few-steps');
    expect(answer.curve).toMatchObject({ model: null, kind: 'too-few-steps' });
    const text = await textOf(...words);
    expect(text).toContain('Next strip: base, ');
    expect(text).not.toContain('Expose ');
  });

  const marks = JSON.parse(readFileSync(MARKS, 'utf8'));
  const outside = {
    ...marks,
    steps: marks.steps.map((step: { quad: [number, number][] }, i: number) =>
      i === 2 ? { ...step, quad: step.quad.map(([x, y]) => [x + 5000, y]) } : step,
    ),
  };
  const strip = JSON.parse(readFileSync(STRIP, 'utf8'));

  test.each([
    ['a photo that is not there', ['nowhere.jpg', '--strip', STRIP], 'file-unreadable'],
    ['a folder for a photo', [DEMO_FOLDER, '--strip', STRIP], 'file-unreadable'],
    [
      'a photo that is text',
      [file('text.jpg', 'a letter, not a photo'), '--strip', STRIP],
      'photo-format-unsupported',
    ],
    ['an empty photo', [file('empty.jpg', ''), '--strip', STRIP], 'photo-unreadable'],
    ['a strip that is not there', [PHOTO, '--strip', 'nowhere.json'], 'file-unreadable'],
    ['a strip that is no JSON', [PHOTO, '--strip', file('bad.json', '{bad')], 'strip-invalid'],
    ['a strip that is a list', [PHOTO, '--strip', file('list.json', '[]')], 'strip-invalid'],
    [
      'a card of no known name',
      [PHOTO, '--strip', file('card.json', { ...strip, card: 'pink' })],
      'card-invalid',
    ],
    ['marks that are no JSON', [PHOTO, '--strip', STRIP, '--marks', file('m.json', '')], 'marks-invalid'],
    ['marks that are a strip', [PHOTO, '--strip', STRIP, '--marks', STRIP], 'marks-invalid'],
    [
      'marks outside the photo',
      [PHOTO, '--strip', STRIP, '--marks', file('outside.json', outside)],
      'marks-outside-photo',
    ],
    ['a target in words', [PHOTO, '--strip', STRIP, '--target', 'dark'], 'target-invalid'],
    ['a target below 0', [PHOTO, '--strip', STRIP, '--target', 'L=-5'], 'target-invalid'],
    ['a seed in words', [PHOTO, '--strip', STRIP, '--seed', 'x'], 'usage'],
    ['a timer step of 0', [PHOTO, '--strip', STRIP, '--timer-step', '0'], 'usage'],
    ['a target left empty', [PHOTO, '--strip', STRIP, '--target'], 'usage'],
  ])('refuses %s: exit 2, one line, one JSON object', async (_, words, code) => {
    const { stdout, stderr, exit } = await runCommandLine(['read', ...words, '--json']);
    expect(exit).toBe(2);
    expect(JSON.parse(stdout)).toMatchObject({ error: { code } });
    expect(stderr).toMatch(/^tonestep: [^\n]+\n$/);
    expect(stderr).not.toMatch(/ at .*\.ts|Error:/);
  });
});

describe('tonestep read --also', () => {
  test('reads two photos of a strip together and says how far they differ', async () => {
    const words = [PHOTO, '--strip', STRIP, '--marks', MARKS];
    const answer = await read.run([...words, '--also', PHOTO, '--also-marks', MARKS]);
    const one = await read.run(words);
    const repeatability = (answer.json as { repeatability: { photos: number; measuredL: number } })
      .repeatability;
    expect(repeatability.photos).toBe(2);
    // The same file twice: nothing differs, and the means are those of one.
    expect(repeatability.measuredL).toBeLessThan(1e-9);
    const lightness = (json: unknown) => (json as { steps: { L: number }[] }).steps.map((s) => s.L);
    expect(lightness(answer.json)).toEqual(lightness(one.json));
    expect(answer.text).toContain('2 of this strip differ by 0.0 L*');
  });

  test('asks for as many marks files as photos', async () => {
    const words = [PHOTO, '--strip', STRIP, '--also', PHOTO];
    await expect(
      read.run([...words, '--also-marks', 'a.json', '--also-marks', 'b.json']),
    ).rejects.toMatchObject({ code: 'usage' });
  });
});

test('tonestep read --with fits an earlier strip together with this one and narrows the interval', async () => {
  const words = [PHOTO, '--strip', STRIP, '--marks', MARKS, '--target', 'L=42'];
  const first = await read.run(words);
  const kept = file('first.json', JSON.stringify(first.json));
  const both = await read.run([...words, '--with', kept]);
  const of = (json: unknown) =>
    json as { curve: { points: unknown[] }; advice: { low: number; high: number; seconds: number } };
  expect(of(both.json).curve.points).toHaveLength(2 * of(first.json).curve.points.length);
  const width = ({ advice }: ReturnType<typeof of>) => Math.log2(advice.high / advice.low);
  expect(width(of(both.json))).toBeLessThan(0.9 * width(of(first.json)));
  expect(of(both.json).advice.seconds / of(first.json).advice.seconds).toBeCloseTo(1, 1);
});
