import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkPhoto } from '../../analysis/check/checkPhoto.ts';
import { fitCurve } from '../../analysis/curve/fitCurve.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { readStrip } from '../../analysis/index.ts';
import { checkCard } from '../../analysis/level/cardCheck.ts';
import { KNOWN_CARDS, ownPatch } from '../../analysis/level/cards.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { cutTiles } from '../../analysis/tiles/cutTiles.ts';
import type { PatchMean } from '../../analysis/tiles/robustMean.ts';
import { loadDemoEntries } from '../../server/demos.ts';
import { phraseText } from '../../web/sentences/phraseText.ts';
import { bringPhrases, speak } from '../../web/words.ts';
import { marks, type Painting, paintedTable } from '../analysis/check/paintedTable.ts';
import { type Dye, exactPoints } from '../analysis/curve/trueStrips.ts';
import { ENGLISH, holdTogether } from './holdTogether.ts';
import { SAMPLES } from './phraseSamples.ts';
import { sentencesIn } from './saidIn.ts';

const root = resolve(import.meta.dirname, '../..');

beforeAll(async () => {
  await speak('de');
  await bringPhrases();
});
afterAll(() => speak('en'));

describe('a sentence of the analysis in German', () => {
  it.each(Object.entries(SAMPLES))('is complete and German: %s', (id, values) => {
    const text = phraseText({ id, values: values as Readonly<Record<string, unknown>> });
    expect(text).toMatch(/\p{L}{2,} \p{L}{2,}/u);
    expect(text).not.toMatch(/undefined|NaN|\[object/);
    // Names of fields stand in straight quotation marks, or before a colon where one is wrong.
    expect(text?.replace(/"\w+"|(?<=: )[\w.[\]]+(?=: )/g, '')).not.toMatch(ENGLISH);
    expect(text).not.toMatch(/ {2}|\.\.| \.| ,/);
  });

  it('is left to the English text where its id is of another version', () => {
    expect(phraseText({ id: 'of-another-version', values: {} })).toBeNull();
    expect(phraseText(undefined)).toBeNull();
  });

  it('is not made in English, whose text the analysis gives', async () => {
    await speak('en');
    expect(phraseText({ id: 'blank-strip', values: {} })).toBeNull();
    await speak('de');
    await bringPhrases();
  });

  it('fetches the sentences once the first is to be said', async () => {
    await speak('de');
    expect(phraseText({ id: 'blank-strip', values: {} })).toBeNull();
    await expect.poll(() => phraseText({ id: 'blank-strip', values: {} })).toMatch(/leer/i);
  });
});

const BLUE: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
const fits = {
  long: fitCurve(exactPoints(BLUE, [0, 30, 60, 120, 240, 480, 960, 1920])),
  short: fitCurve(exactPoints(BLUE, [0, 10, 20, 40])),
  'without base': fitCurve(exactPoints(BLUE, [30, 60, 120, 240, 480])),
  'one step': fitCurve(exactPoints(BLUE, [0, 45])),
  'one step and no base': fitCurve(exactPoints(BLUE, [45])),
  'two steps': fitCurve(exactPoints(BLUE, [45, 90])),
  blank: fitCurve(exactPoints({ ...BLUE, deepestL: 90.9 }, [0, 30, 60, 120])),
  'blank without base': fitCurve(exactPoints({ ...BLUE, deepestL: 90.9 }, [30, 60, 120])),
  reversed: fitCurve(
    exactPoints(BLUE, [0, 60, 120, 240, 480, 960, 1920]).map((point, i) =>
      i > 4 ? { ...point, L: point.L + 8 * (i - 4) } : point,
    ),
  ),
};

const patch = (name: string, light: number, how: Partial<PatchMean> = {}) => ({
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
type Patches = Parameters<typeof checkCard>[1];

const checked = (patches: Patches, card = KNOWN_CARDS['white-grey-black']): unknown => {
  try {
    return checkCard(card, patches, () => 1);
  } catch (error) {
    if (error instanceof AnalysisError) return { message: error.message, phrase: error.phrase };
    throw error;
  }
};

const findings = (painting: Painting): unknown => {
  const photo = paintedTable(painting);
  return checkPhoto(photo, marks, cutTiles(photo, marks));
};

describe('German sentences have the numbers of the English ones', () => {
  it.each(Object.entries(fits))('in a curve: %s', (_, outcome) => {
    const sentences = sentencesIn(outcome);
    expect(sentences.length).toBeGreaterThan(0);
    holdTogether(sentences);
  });

  it.each<readonly [string, Patches]>([
    ['burnt out', [patch('white', 1, { clippedShare: 0.4 }), patch('grey', 0.14), patch('black', 0.03)]],
    ['all unusable', [patch('white', 1, { clippedShare: 1 }), patch('grey', 0.14, { unevenness: 0.5 })]],
    ['out of order', [patch('white', 0.14), patch('grey', 0.7), patch('black', 0.03)]],
    ['of no contrast', [patch('white', 0.5), patch('grey', 0.49), patch('black', 0.48)]],
    ['of other names', [patch('red', 0.5)]],
    [
      'of another colour',
      [patch('white', 0.7), patch('grey', 0.14, { rgb: [0.05, 0.14, 0.3] }), patch('black', 0.03)],
    ],
  ])('in what is said of a card %s', (_, patches) => {
    const sentences = sentencesIn(checked(patches));
    expect(sentences.length).toBeGreaterThan(0);
    holdTogether(sentences);
  });

  it('in what is said of two patches that differ more than any camera makes them', () => {
    const own = { kind: 'own' as const, patches: [ownPatch('a', 0.8), ownPatch('b', 0.5)] };
    const sentences = sentencesIn(checked([patch('a', 0.8), patch('b', 0.01)], own));
    expect(sentences[0].phrase?.id).toBe('card-contrast-high');
    // The English figure has two digits and the German one as many as it needs: both say 60 : 1 and 1.6 : 1.
    holdTogether(sentences);
  });

  const fallOff = (x: number) => {
    const light = Math.exp(-Math.LN2 * ((x - 300) / 800));
    return [light, light, light] as const;
  };
  const shade = (x: number) => (x > 800 ? ([0.7, 0.7, 0.7] as const) : ([1, 1, 1] as const));
  it.each<readonly [string, Painting]>([
    ['blurred', { box: { across: 9, down: 9 } }],
    ['half in shadow', { lit: shade }],
    ['very unevenly lit', { lit: fallOff }],
    ['in mixed light', { lit: (x) => [1 + 0.1 * (x / 800 - 1), 1, 1 - 0.1 * (x / 800 - 1)] }],
    ['burnt out', { lit: () => [1.8, 1.8, 1.8] }],
    [
      'with a mirrored lamp',
      { glare: (x, y) => 0.2 * Math.exp(-((x - 400) ** 2 + (y - 740) ** 2) / 60 ** 2) },
    ],
  ])('in what is said of a photo %s', (_, painting) => {
    const sentences = sentencesIn(findings(painting));
    expect(sentences.length).toBeGreaterThan(0);
    holdTogether(sentences);
  });

  it.each(loadDemoEntries(join(root, 'fixtures/demo')).map((demo) => [demo.id, demo] as const))(
    'in the reading of the demo %s, found without hand',
    async (_, demo) => {
      const reading = await readStrip(readFileSync(demo.photoPath), parseStrip(demo.strip));
      const { sentence, ...advice } = reading.advice;
      const sentences = sentencesIn({ ...reading, advice });
      expect(sentences.length).toBeGreaterThan(1);
      holdTogether(sentences);
    },
    60_000,
  );
});
