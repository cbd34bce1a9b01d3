import { describe, expect, it } from 'vitest';
import { AnalysisError } from '../../../analysis/errors.ts';
import type { Card } from '../../../analysis/level/card.ts';
import { checkCard } from '../../../analysis/level/cardCheck.ts';
import { KNOWN_CARDS, ownPatch } from '../../../analysis/level/cards.ts';
import type { PatchMean } from '../../../analysis/tiles/robustMean.ts';

const CARD = KNOWN_CARDS['white-grey-black'];
const evenLight = () => 1;

const seen = (name: string, light: number, how: Partial<PatchMean> = {}) => ({
  name,
  mean: {
    x: 0,
    y: 0,
    rgb: [light, light, light] as const,
    relativeSe: [0.001, 0.001, 0.001] as const,
    unevenness: 0.01,
    clippedShare: 0,
    tilesUsed: 64,
    tilesDropped: 0,
    ...how,
  },
});
const GOOD = [seen('white', 0.7), seen('grey', 0.14), seen('black', 0.03)];

const refusal = (run: () => unknown): AnalysisError => {
  try {
    run();
  } catch (error) {
    if (error instanceof AnalysisError) return error;
    throw error;
  }
  throw new Error('was not refused');
};

describe('a card’s patches', () => {
  it('are all usable when nothing is wrong, lightest first whatever the order of marks', () => {
    const { usable, refused } = checkCard(CARD, [GOOD[2], GOOD[0], GOOD[1]], evenLight);
    expect(usable.map((u) => [u.patch.name, u.patch.Y, u.mean.rgb[1]])).toEqual([
      ['white', 0.9, 0.7],
      ['grey', 0.18, 0.14],
      ['black', 0.035, 0.03],
    ]);
    expect(refused).toEqual([]);
  });

  it('lose a patch whose mark lies on blue cloth, and keep those tinted by the light alike', () => {
    const tinted = GOOD.map((p) => ({
      ...p,
      mean: { ...p.mean, rgb: [1.2 * p.mean.rgb[0], p.mean.rgb[1], 0.8 * p.mean.rgb[2]] as const },
    }));
    expect(checkCard(CARD, tinted, evenLight).refused).toEqual([]);
    const onCloth = seen('grey', 0.14, { rgb: [0.08, 0.14, 0.3] });
    const { usable, refused } = checkCard(CARD, [GOOD[0], onCloth, GOOD[2]], evenLight);
    expect(usable.map((u) => u.patch.name)).toEqual(['white', 'black']);
    expect(refused[0]).toMatchObject({ name: 'grey', reason: expect.stringContaining('another colour') });
  });

  it('lose a white with 3 % of its pixels clipped, with the reason; 2 % still count', () => {
    const clippedBy = (share: number) =>
      checkCard(CARD, [seen('white', 0.99, { clippedShare: share }), GOOD[1], GOOD[2]], evenLight);
    expect(clippedBy(0.03).usable.map((u) => u.patch.name)).toEqual(['grey', 'black']);
    expect(clippedBy(0.03).refused[0].name).toBe('white');
    expect(clippedBy(0.03).refused[0].reason).toMatch(/^clipped .*\(3 % of its pixels\)/);
    expect(clippedBy(0.02).refused).toEqual([]);
  });

  it('lose a grey that varies by 20 % from tile to tile, with the reason', () => {
    const { usable, refused } = checkCard(
      CARD,
      [GOOD[0], seen('grey', 0.14, { unevenness: 0.2 }), GOOD[2]],
      evenLight,
    );
    expect(usable.map((u) => u.patch.name)).toEqual(['white', 'black']);
    expect(refused[0].reason).toMatch(/^uneven \(20 % /);
  });

  it('keep a black that noise makes vary by 20 % of its 3 %: half a per cent of white is allowed', () => {
    const noisyBlack = [GOOD[0], GOOD[1], seen('black', 0.03, { unevenness: 0.2 })];
    expect(checkCard(CARD, noisyBlack, evenLight).refused).toEqual([]);
  });

  it('are refused as card-unusable when every one is clipped, naming each', () => {
    const error = refusal(() =>
      checkCard(
        CARD,
        GOOD.map(({ name }) => seen(name, 1, { clippedShare: 1 })),
        evenLight,
      ),
    );
    expect(error.code).toBe('card-unusable');
    for (const { name } of GOOD) expect(error.message).toContain(name);
  });

  it('are refused with more light as the remedy when they are black, with less when they are white', () => {
    const allAt = (light: number) =>
      refusal(() =>
        checkCard(
          CARD,
          GOOD.map(({ name }) => seen(name, light, { clippedShare: 1 })),
          evenLight,
        ),
      ).message;
    expect(allAt(0)).toContain('expose the photo more');
    expect(allAt(1)).toContain('expose the photo a little less');
    expect(allAt(1)).toContain('white, grey, black are clipped in the photo (100 % of its pixels)');
  });

  it('are refused as card-unusable where all look alike: marks on one flat area, or no card in the photo', () => {
    const error = refusal(() =>
      checkCard(
        CARD,
        GOOD.map(({ name }) => seen(name, 0.2)),
        evenLight,
      ),
    );
    expect(error.code).toBe('card-unusable');
    expect(error.message).toContain('hardly differ (1.0 : 1 in the photo, 5.0 : 1 on the card)');
  });

  it('are refused where they differ far more than their values: 5 : 1 seen, 1.1 : 1 said, and as much for equal values', () => {
    for (const [light, dark] of [
      [0.5, 0.45],
      [0.5, 0.5],
    ]) {
      const own: Card = { kind: 'own', patches: [ownPatch('a', light), ownPatch('b', dark)] };
      const error = refusal(() => checkCard(own, [seen('a', 0.5), seen('b', 0.1)], evenLight));
      expect(error.code).toBe('card-unusable');
      expect(error.message).toContain('differ too much');
    }
  });

  it('are usable through any camera: exponents 0.5 to 2.2, a veil of 6 % of white, the same patch under 40 % less light', () => {
    for (const exponent of [0.5, 1, 1.6, 2.2])
      for (const veil of [0, 0.06])
        for (const card of [CARD, KNOWN_CARDS['grey-scale'], KNOWN_CARDS['chart-24']]) {
          const patches = card.patches.map(({ name, Y }) => seen(name, (0.9 * Y + veil) ** exponent));
          expect(checkCard(card, patches, evenLight).usable).toHaveLength(card.patches.length);
        }
    expect(checkCard(CARD, [...GOOD, seen('white', 0.6 * 0.7)], evenLight).usable).toHaveLength(4);
  });

  it('are refused as card-unusable when grey and black are mixed up, naming the two', () => {
    const error = refusal(() =>
      checkCard(CARD, [GOOD[0], seen('grey', 0.03), seen('black', 0.14)], evenLight),
    );
    expect(error.code).toBe('card-unusable');
    expect(error.message).toContain('"black" is lighter in the photo than "grey"');
  });

  it('are compared under their own light: a grey in shade, darker than the black in full light, is in order', () => {
    const [white, grey, black] = GOOD;
    const shaded = { ...grey, mean: { ...grey.mean, x: 500, rgb: [0.028, 0.028, 0.028] as const } };
    const light = (x: number) => (x === 500 ? 0.2 : 1);
    expect(checkCard(CARD, [white, shaded, black], light).usable).toHaveLength(3);
    expect(refusal(() => checkCard(CARD, [white, shaded, black], evenLight)).code).toBe('card-unusable');
  });

  it('may be two of one name, on two cards, either a little lighter', () => {
    const { usable } = checkCard(CARD, [...GOOD, seen('grey', 0.15), seen('white', 0.69)], evenLight);
    expect(usable.map((u) => u.patch.name)).toEqual(['white', 'white', 'grey', 'grey', 'black']);
  });

  it('are refused as marks-invalid where no marked name is on the card; a stray name beside others is passed over', () => {
    expect(refusal(() => checkCard(CARD, [seen('D0.05', 0.7)], evenLight)).code).toBe('marks-invalid');
    expect(checkCard(CARD, [...GOOD, seen('7', 0.4)], evenLight).usable).toHaveLength(3);
  });
});
