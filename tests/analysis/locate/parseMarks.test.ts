import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';

const SQUARE = [
  [10, 10],
  [50, 10],
  [50, 50],
  [10, 50],
];
const GOOD = {
  card: [{ name: 'grey', quad: SQUARE }],
  steps: [
    { seconds: 0, quad: SQUARE },
    { seconds: 60, quad: SQUARE },
  ],
};
const withQuad = (quad: unknown) => ({ ...GOOD, card: [{ name: 'grey', quad }] });
const withStep = (step: unknown) => ({ ...GOOD, steps: [step] });

const refusal = (json: unknown): AnalysisError => {
  try {
    parseMarks(json);
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error('was not refused');
};

describe('marks', () => {
  it('given without more count as set by hand, with confidence 1', () => {
    const byHand = { origin: 'hand', confidence: 1 };
    expect(parseMarks(GOOD)).toEqual({
      card: [{ ...GOOD.card[0], ...byHand }],
      steps: GOOD.steps.map((s) => ({ ...s, ...byHand })),
    });
  });

  it('keep the origin and confidence of a reading that gave them', () => {
    const found = { origin: 'free-form', confidence: 0.7 };
    expect(parseMarks({ ...GOOD, card: [{ ...GOOD.card[0], ...found }] }).card[0]).toMatchObject(found);
  });

  it('come back as they are when read, written and read again', () => {
    const once = parseMarks(GOOD);
    expect(parseMarks(JSON.parse(JSON.stringify(once)))).toEqual(once);
  });

  it('name patches without the blanks around, as a strip’s card does', () => {
    const blanks = { ...GOOD, card: [{ name: ' grey ', quad: SQUARE }] };
    expect(parseMarks(blanks).card[0].name).toBe('grey');
    expect(refusal({ ...GOOD, card: [{ name: 'x'.repeat(61), quad: SQUARE }] }).code).toBe('marks-invalid');
  });

  it('come back in rising exposure', () => {
    const falling = { ...GOOD, steps: [240, 0, 60].map((seconds) => ({ seconds, quad: SQUARE })) };
    expect(parseMarks(falling).steps.map((s) => s.seconds)).toEqual([0, 60, 240]);
  });

  it('with anticlockwise corners are turned round, the first corner staying first', () => {
    const [a, b, c, d] = SQUARE;
    expect(parseMarks(withQuad([a, d, c, b])).card[0].quad).toEqual(SQUARE);
  });

  it('may name a patch twice, for two cards, and reach outside the photo; that is judged with the photo', () => {
    const twice = {
      ...GOOD,
      card: [GOOD.card[0], { name: 'grey', quad: SQUARE.map(([x, y]) => [x - 900, y]) }],
    };
    expect(parseMarks(twice).card).toHaveLength(2);
  });

  const [a, b, c, d] = SQUARE;
  it.each([
    ['nothing', null],
    ['text', 'marks'],
    ['no card', { steps: GOOD.steps }],
    ['no steps', { card: GOOD.card }],
    ['an empty card', { ...GOOD, card: [] }],
    ['an empty strip', { ...GOOD, steps: [] }],
    ['101 steps', { ...GOOD, steps: Array.from({ length: 101 }, (_, i) => ({ seconds: i, quad: SQUARE })) }],
    ['a patch without a name', { ...GOOD, card: [{ quad: SQUARE }] }],
    ['a step without its time', withStep({ quad: SQUARE })],
    ['a step of -5 s', withStep({ seconds: -5, quad: SQUARE })],
    ['a step without end', withStep({ seconds: Number.POSITIVE_INFINITY, quad: SQUARE })],
    ['an origin that is none', withStep({ seconds: 5, quad: SQUARE, origin: 'guess' })],
    ['a confidence of 2', withStep({ seconds: 5, quad: SQUARE, confidence: 2 })],
    ['three corners', withQuad([a, b, c])],
    ['five corners', withQuad([a, b, c, d, a])],
    ['a corner of three numbers', withQuad([a, b, c, [1, 2, 3]])],
    ['a corner that is text', withQuad([a, b, c, ['10', '50']])],
    ['a corner that is no number', withQuad([a, b, c, [Number.NaN, 50]])],
    ['crossing sides', withQuad([a, c, b, d])],
    ['three corners on a line', withQuad([a, [30, 10], b, c])],
    ['a corner pushed in', withQuad([a, b, [20, 20], d])],
    ['all corners in one place', withQuad([a, a, a, a])],
  ])('with %s are refused as marks-invalid', (_, json) => {
    expect(refusal(json).code).toBe('marks-invalid');
  });

  it('say which area has wrong corners: the step of 90 s', () => {
    expect(refusal(withStep({ seconds: 90, quad: [a, c, b, d] })).message).toContain('the step of 90 s');
    expect(refusal(withQuad([a, c, b, d])).message).toContain('card patch "grey"');
  });

  it('throw nothing but marks-invalid whatever JSON they are, and come back clockwise', () => {
    const coordinate = fc.oneof(fc.integer({ min: -50, max: 50 }), fc.double());
    const quad = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 5 });
    const nearly = fc.record(
      {
        card: fc.oneof(fc.array(fc.record({ name: fc.string(), quad })), fc.jsonValue()),
        steps: fc.oneof(fc.array(fc.record({ seconds: fc.double({ min: 0 }), quad })), fc.jsonValue()),
      },
      { requiredKeys: [] },
    );
    const four = fc.array(fc.tuple(fc.integer({ min: 0, max: 99 }), fc.integer({ min: 0, max: 99 })), {
      minLength: 4,
      maxLength: 4,
    });
    const likely = fc.record({
      card: fc.tuple(fc.record({ name: fc.string(), quad: four })),
      steps: fc.tuple(fc.record({ seconds: fc.integer({ min: 0, max: 99 }), quad: fc.constant(SQUARE) })),
    });
    let taken = 0;
    fc.assert(
      fc.property(fc.oneof(fc.jsonValue(), nearly, likely), (json) => {
        try {
          const marks = parseMarks(json);
          taken++;
          for (const { quad: corners } of [...marks.card, ...marks.steps]) {
            const area = corners.reduce((sum, [x, y], i) => {
              const [nextX, nextY] = corners[(i + 1) % 4];
              return sum + x * nextY - nextX * y;
            }, 0);
            expect(area).toBeGreaterThan(0);
          }
        } catch (error) {
          expect(error).toBeInstanceOf(AnalysisError);
          expect((error as AnalysisError).code).toBe('marks-invalid');
        }
      }),
      { numRuns: 600, seed: 12 },
    );
    expect(taken).toBeGreaterThan(20);
  });
});
