import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import { KNOWN_CARDS } from '../../../analysis/level/cards.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { table } from '../../reference/table.ts';

const GOOD = {
  dye: 'light-set blue',
  cloth: 'hemp',
  light: 'sun lamp',
  card: 'white-grey-black',
  steps: [{ seconds: 0 }, { seconds: 60 }, { seconds: 120.5 }],
};

const refusal = (json: unknown): AnalysisError => {
  try {
    parseStrip(json);
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error('was not refused');
};
const withCard = (...patches: readonly unknown[]) => ({ ...GOOD, card: { patches } });
const withSteps = (...seconds: readonly unknown[]) => ({
  ...GOOD,
  steps: seconds.map((s) => ({ seconds: s })),
});

describe('a strip description', () => {
  it('comes back with its names and times, the card resolved to known patches', () => {
    expect(parseStrip(GOOD)).toEqual({ ...GOOD, card: KNOWN_CARDS['white-grey-black'] });
  });

  it.each(['grey-18', 'white-grey-black', 'grey-scale', 'chart-24'] as const)(
    'may name the card %s',
    (card) => {
      expect(parseStrip({ ...GOOD, card }).card).toEqual(KNOWN_CARDS[card]);
    },
  );

  it('needs card and steps alone; names are then empty', () => {
    const { card, steps } = GOOD;
    expect(parseStrip({ card, steps })).toMatchObject({ dye: '', cloth: '', light: '' });
  });

  it('passes over what it does not know', () => {
    expect(parseStrip({ ...GOOD, washedIn: 'rain' })).not.toHaveProperty('washedIn');
  });

  it('may list the same time twice, for a repeated step', () => {
    expect(parseStrip(withSteps(0, 60, 60)).steps).toEqual([
      { seconds: 0 },
      { seconds: 60 },
      { seconds: 60 },
    ]);
  });

  it('takes a patch by Y, by L* or by density: Y 0.18418652, L* 50 and D 0.73474 are one', () => {
    // Source: CIE 15, Y of L* 50 is (66/116)^3 = 0.18418652; ISO 5-4, D = -log10 Y.
    const { patches } = parseStrip(
      withCard({ name: 'a', Y: 0.18418652 }, { name: 'b', L: 50 }, { name: 'c', density: 0.734742 }),
    ).card;
    for (const { Y } of patches) expect(Y).toBeCloseTo(0.18418652, 6);
  });

  // Source: tests/reference/density_lstar.csv, see SOURCES.md there.
  it('agrees with the table of density and L* at densities that a card can have, to 1e-4 in Y', () => {
    const rows = table('density_lstar.csv').filter(
      (r) => Number(r.density) >= 0.05 && Number(r.density) <= 2.5,
    );
    expect(rows.length).toBeGreaterThan(5);
    for (const row of rows) {
      const lightness = Number(row.Lstar);
      const [byDensity, byL] = parseStrip(
        withCard({ name: 'D', density: Number(row.density) }, { name: 'L', L: lightness }),
      ).card.patches;
      expect(Math.abs(byDensity.Y - byL.Y)).toBeLessThan(1e-4);
    }
  });

  it.each([
    ['nothing', undefined],
    ['text', 'strip'],
    ['a list', []],
    ['no card', { steps: GOOD.steps }],
    ['a number as card', { ...GOOD, card: 18 }],
    ['a card without patches', withCard()],
    ['a patch without a name', withCard({ Y: 0.2 })],
    ['a patch whose name is blank', withCard({ name: '  ', Y: 0.2 })],
    ['61 patches', withCard(...Array.from({ length: 61 }, (_, i) => ({ name: `p${i}`, Y: 0.5 })))],
    ['no steps', { ...GOOD, steps: [] }],
    ['61 steps', withSteps(...Array.from({ length: 61 }, (_, i) => i))],
    ['a step of -1 s', withSteps(-1, 60)],
    ['a step of two weeks and a second', withSteps(0, 14 * 24 * 3600 + 1)],
    ['a step that is text', withSteps('60')],
    ['a step that is no number', withSteps(Number.NaN)],
    ['a step without end', withSteps(Number.POSITIVE_INFINITY)],
    ['a step of 0.005 s', withSteps(0, 0.005, 60)],
    ['a step of 1e-308 s', withSteps(0, 1e-308, 2e-308)],
    ['steps that fall', withSteps(0, 120, 60)],
    ['a name of 201 letters', { ...GOOD, dye: 'x'.repeat(201) }],
  ])('with %s is refused as strip-invalid', (_, json) => {
    expect(refusal(json).code).toBe('strip-invalid');
  });

  it('says which step falls: step 3 (60 s) after 120 s', () => {
    expect(refusal(withSteps(0, 120, 60)).message).toContain('Step 3 (60 s)');
    expect(refusal(withSteps(0, 120, 60)).message).toContain('(120 s)');
  });

  it('says where the fault lies: steps[1].seconds', () => {
    expect(refusal(withSteps(0, 'x')).message).toContain('steps[1].seconds');
  });

  it.each([
    ['an unknown card', { ...GOOD, card: 'grey-19' }],
    ['a card named like an object’s own property', { ...GOOD, card: 'constructor' }],
    ['a patch with no value', withCard({ name: 'a' })],
    ['a patch with two values', withCard({ name: 'a', Y: 0.18, L: 50 })],
    ['Y in percent', withCard({ name: 'a', Y: 18 })],
    ['Y of 0', withCard({ name: 'a', Y: 0 })],
    ['Y below 0.002', withCard({ name: 'a', Y: 0.0019 })],
    ['L* above 102', withCard({ name: 'a', L: 103 })],
    ['L* below 0', withCard({ name: 'a', L: -5 })],
    ['a density of 3', withCard({ name: 'a', density: 3 })],
    ['a density that no double holds', withCard({ name: 'a', density: -400 })],
    ['two patches of one name', withCard({ name: 'a', Y: 0.2 }, { name: ' a', Y: 0.4 })],
  ])('with %s is refused as card-invalid', (_, json) => {
    expect(refusal(json).code).toBe('card-invalid');
  });

  it('takes a flash of 0.01 s', () => {
    expect(parseStrip(withSteps(0, 0.01)).steps[1].seconds).toBe(0.01);
  });

  it('says what a card can be where it is missing or no card', () => {
    for (const card of [undefined, null, 18])
      expect(refusal({ ...GOOD, card }).message).toContain('card: needs the name of a card or {"patches"');
  });

  it('repeats a value that no patch has as it was written: L* = 150, not its reflectance', () => {
    expect(refusal(withCard({ name: 'a', L: 150 })).message).toContain('"a" with L* = 150 can\'t be used');
    expect(refusal(withCard({ name: 'a', density: 3 })).message).toContain('density 3');
  });

  it('quotes 60 characters of a card’s name of 100,000', () => {
    expect(refusal({ ...GOOD, card: 'x'.repeat(100_000) }).message.length).toBeLessThan(300);
  });

  it('says how to write 18 %', () => {
    expect(refusal(withCard({ name: 'a', Y: 18 })).message).toContain('18 % is 0.18');
  });

  it('throws nothing but an AnalysisError whatever JSON it gets', () => {
    const patch = fc.record(
      { name: fc.string(), Y: fc.double(), L: fc.double(), density: fc.double() },
      { requiredKeys: [] },
    );
    const nearly = fc.record(
      {
        dye: fc.anything(),
        card: fc.oneof(
          fc.constantFrom(...Object.keys(KNOWN_CARDS)),
          fc.record({ patches: fc.array(patch) }),
          fc.jsonValue(),
        ),
        steps: fc.oneof(fc.array(fc.record({ seconds: fc.double() })), fc.jsonValue()),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(fc.oneof(fc.jsonValue(), nearly), (json) => {
        try {
          const strip = parseStrip(json);
          expect(strip.card.patches.every((p) => p.Y >= 0.002 && p.Y <= 1.05)).toBe(true);
          expect(strip.steps.every((s) => s.seconds >= 0)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(AnalysisError);
          expect(['strip-invalid', 'card-invalid']).toContain((error as AnalysisError).code);
        }
      }),
      { numRuns: 500, seed: 11 },
    );
  });
});
