import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compareDyes } from '../../analysis/across/compare.ts';
import { readEvenness } from '../../analysis/across/evenness.ts';
import { ewmaChart } from '../../analysis/across/ewma.ts';
import { individualsChart } from '../../analysis/across/individuals.ts';
import { restateTime, transferByControl } from '../../analysis/across/transfer.ts';
import { planFromCurve } from '../../analysis/advice/planFromCurve.ts';
import { checkTarget, parseTarget } from '../../analysis/advice/target.ts';
import { parseBedMarks } from '../../analysis/bedMarks.ts';
import { bootstrapCurve } from '../../analysis/curve/bootstrap.ts';
import { fitCurve } from '../../analysis/curve/fitCurve.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { apartMarks } from '../../analysis/locate/apartMarks.ts';
import { matchMarks } from '../../analysis/locate/matchMarks.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseTaps } from '../../analysis/locate/taps.ts';
import { colourUnsupported } from '../../analysis/photo/colourUnsupported.ts';
import { photoFormat } from '../../analysis/photo/format.ts';
import { checkSize } from '../../analysis/photo/size.ts';
import type { PhraseId } from '../../analysis/phrases.ts';
import { planStrip } from '../../analysis/plan/plan.ts';
import { equalStopSeries } from '../../analysis/plan/series.ts';
import { formatClock, parseSeconds, parseStops } from '../../analysis/plan/time.ts';
import { roundToTimer } from '../../analysis/plan/timer.ts';
import { planCodeText } from '../../analysis/sheet/planCode.ts';
import { germanArchiveReason } from '../../analysis/words/germanArchive.ts';
import { sheetRequest } from '../../server/contracts/sheets.ts';
import { parsedBy } from '../../server/parsedBy.ts';
import { exposedMoment } from '../../server/record/moment.ts';
import { Refusal } from '../../server/refusal.ts';
import { bringPhrases, speak } from '../../web/words.ts';
import { INDIGO, knownCurve } from '../analysis/across/knownCurve.ts';
import { ENGLISH, holdTogether } from './holdTogether.ts';
import { englishNumbers, germanNumbers } from './saidIn.ts';

beforeAll(async () => {
  await speak('de');
  await bringPhrases();
});
afterAll(() => speak('en'));

const refusal = (doIt: () => unknown): AnalysisError | Refusal => {
  try {
    doIt();
  } catch (error) {
    if (error instanceof AnalysisError || error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('nothing was refused');
};

const curve = knownCurve(INDIGO);
const recorded = { curve, set: bootstrapCurve(curve, { count: 20 }) };
const card = 'white-grey-black';
const strip = parseStrip({ card, steps: [{ seconds: 0 }, { seconds: 30.5 }, { seconds: 60 }] });
const square = (x: number) =>
  [
    [x, 0],
    [x + 50, 0],
    [x + 50, 50],
    [x, 50],
  ] as const;
const crossed = [
  [0, 0],
  [50, 50],
  [50, 0],
  [0, 50],
];
const marksOf = (patch: string, ...steps: number[]) =>
  parseMarks({
    card: [{ name: patch, quad: square(0) }],
    steps: steps.map((seconds, i) => ({ seconds, quad: square(100 + 100 * i) })),
  });
const own = (patch: object) => ({ card: { patches: [patch] }, steps: [{ seconds: 0 }] });
const plan = (more: object) =>
  planStrip({
    start: { kind: 'nothing' },
    light: 'tubes',
    layout: { kind: 'strip', direction: 'covering' },
    ...more,
  });
const ascii = (text: string) => new TextEncoder().encode(text.padEnd(64, ' '));

/** What is done, and the sentence that refuses it. */
const REFUSED: readonly (readonly [what: string, id: PhraseId, doIt: () => unknown])[] = [
  ['an empty file', 'file-empty', () => photoFormat(new Uint8Array())],
  ['a PDF as a photo', 'file-kind', () => photoFormat(ascii('%PDF-1.7'))],
  ['144 megapixels', 'photo-large', () => checkSize(12_000, 12_000)],
  ['a thumbnail of 40 × 30 px', 'photo-tiny', () => checkSize(40, 30)],
  ['a step between marked ones', 'mark-of-no-step', () => matchMarks(marksOf('white', 61), strip)],
  ['a step marked twice', 'mark-twice', () => matchMarks(marksOf('white', 60, 60), strip)],
  ['a patch that the card lacks', 'mark-of-no-patch', () => matchMarks(marksOf('red', 60), strip)],
  [
    'two marks on one place',
    'marks-on-one-place',
    () => {
      const marks = marksOf('grey', 30.5);
      apartMarks({ ...marks, steps: marks.steps.map((step) => ({ ...step, quad: marks.card[0].quad })) });
    },
  ],
  [
    'crossed corners of a step',
    'mark-crossed',
    () =>
      parseMarks({ card: [{ name: 'white', quad: square(0) }], steps: [{ seconds: 7.5, quad: crossed }] }),
  ],
  ['marks without steps', 'marks-unreadable', () => parseMarks({ card: [{ name: 'a', quad: square(0) }] })],
  ['marks of a bed without sheet', 'marks-unreadable', () => parseBedMarks({ card: [] })],
  ['a tap of one number', 'taps-unreadable', () => parseTaps({ card: [4] })],
  ['a tap on something else', 'taps-unreadable', () => parseTaps({ scarf: [4, 5] })],
  ['a strip of no steps', 'strip-unreadable', () => parseStrip({ card, steps: [] })],
  ['a strip that is a list', 'strip-unreadable', () => parseStrip([])],
  ['a step of a millisecond', 'step-too-short', () => parseStrip({ card, steps: [{ seconds: 0.001 }] })],
  [
    'falling exposures',
    'steps-not-rising',
    () => parseStrip({ card, steps: [{ seconds: 60 }, { seconds: 30.5 }] }),
  ],
  ['a patch of two measures', 'patch-one-measure', () => parseStrip(own({ name: 'white', Y: 0.9, L: 95 }))],
  ['Y in percent', 'patch-in-percent', () => parseStrip(own({ name: 'white', Y: 90 }))],
  ['a density of 3.1', 'patch-beyond', () => parseStrip(own({ name: 'black', density: 3.1 }))],
  [
    'two patches of one name',
    'patch-twice',
    () =>
      parseStrip({
        card: {
          patches: [
            { name: 'a', Y: 0.9 },
            { name: 'a', Y: 0.2 },
          ],
        },
        steps: [{ seconds: 0 }],
      }),
  ],
  ['a card of no name', 'card-unknown', () => parseStrip({ card: 'grey-17', steps: [{ seconds: 0 }] })],
  ['a target in words', 'target-unclear', () => parseTarget('deep')],
  ['a target of L* 140', 'target-beyond', () => parseTarget('L=140')],
  ['a depth of 130 %', 'target-beyond', () => parseTarget('depth=130')],
  ['a swatch of no cloth', 'target-beyond', () => parseTarget('swatch=45,300,-28')],
  ['a target of no kind', 'target-beyond', () => checkTarget({ kind: 'dark' } as never)],
  ['a point of no time', 'point-unfit', () => fitCurve([{ seconds: -3, L: 50, a: 1.5, b: 0, uL: 0.5 }])],
  [
    'a covariance of another size',
    'covariance-unfit',
    () => fitCurve([{ seconds: 3, L: 50, a: 0, b: 0, uL: 0.5 }], { covarianceL: [] }),
  ],
  ['a plan for a light 12 stops faster', 'plan-shift-unfit', () => fromCurve({ shiftStops: 12 })],
  [
    'a plan for more than the cloth reflects',
    'plan-target-paler',
    () => fromCurve({ target: { kind: 'L', L: 99 } }),
  ],
  ['a plan of no uncertainty', 'plan-u-unfit', () => plan({ uL: 0 })],
  ['steps of 5 stops', 'plan-spacing-unfit', () => equalStopSeries(30, 5, 4)],
  ['40 steps', 'plan-count-unfit', () => equalStopSeries(30, 1, 40)],
  ['a first step of −2 s', 'plan-time-unfit', () => equalStopSeries(-2, 1, 4)],
  [
    "a maker's time of 0 s",
    'plan-time-unfit',
    () => plan({ start: { kind: 'maker', seconds: 0, madeFor: 'tubes' } }),
  ],
  [
    'a sky under lamps',
    'plan-sky-under-lamp',
    () => plan({ start: { kind: 'maker', seconds: 60, madeFor: 'tubes', sky: 'clear' } }),
  ],
  ['a clock at −3 s', 'plan-time-unfit', () => formatClock(-3)],
  ['an exposure of 0 s on a timer', 'plan-time-unfit', () => roundToTimer(0, 1)],
  ['"soon" as a time', 'time-unclear', () => parseSeconds('soon')],
  ['30 hours', 'time-long', () => parseSeconds('30 h')],
  ['"some" stops', 'stops-unclear', () => parseStops('some')],
  ['21 stops', 'stops-many', () => parseStops('21')],
  ['a timer step of 0 s', 'timer-unfit', () => roundToTimer(60, 0)],
  ['a plan named in capitals', 'plan-id-unfit', () => planCodeText('Harbour 7')],
  ['a comparison of none', 'compare-too-few', () => compareDyes([])],
  [
    'a comparison at 0 %',
    'compare-beyond',
    () =>
      compareDyes(
        ['a', 'b'].map((name) => ({ name, cloth: 'silk', light: 'tubes', ...recorded })),
        { depthPercent: 0 },
      ),
  ],
  ['a transfer without scraps', 'scraps-missing', () => transferByControl(recorded, [])],
  ['a transfer to L* 101', 'aim-beyond', () => restateTime(recorded, [{ seconds: 60, L: 50, uL: 0.5 }], 101)],
  ['a chart of three', 'chart-too-short', () => individualsChart([0.1, 0, 0.2])],
  ['an average of weight 2', 'average-unfit', () => ewmaChart([1, 2], { target: 0, sigma: 0.5 }, 2)],
  ['a sheet with a step of −3 s', 'request-unfit', () => parsedBy(sheetRequest, { seconds: [0, -3] })],
  ['a sheet on A3', 'request-unfit', () => parsedBy(sheetRequest, { paper: 'a3' })],
  ['a day to come', 'day-to-come', () => exposedMoment('2030-01-01', new Date('2026-01-01'))],
  ['a bed of two rows', 'bed-rows-unfit', () => readEvenness([[], []], recorded)],
];

const fromCurve = (more: object) =>
  planFromCurve({
    curve,
    set: recorded.set,
    target: { kind: 'full' },
    light: 'tubes',
    layout: { kind: 'strip', direction: 'covering' },
    ...more,
  });

/** German beside English without what is meant to be typed or read as it stands. */
const plain = (text: string) =>
  text
    .replace(/„[^“]*“|"[^"]*"(: ?(\[[^\]]*\]|\{[^}]*\}))?/g, '')
    .replace(/(?<=: )[a-z]+(\[\d+\])*(\.[a-z]+)*: /g, '');

describe('a refusal says the same numbers in German', () => {
  it.each(REFUSED)('%s', (what, id, doIt) => {
    const { message, phrase } = refusal(doIt);
    expect(phrase?.id).toBe(id);
    holdTogether([{ place: what, text: message, phrase: phrase ?? undefined }], { clean: plain });
  });

  it.each(['profile-damaged', 'profile-space', 'hdr', 'cmyk'] as const)(
    'colours that can not be read: %s',
    (why) => {
      const { message, phrase } = colourUnsupported('The colours.', why, 'LAB');
      holdTogether([{ place: why, text: message, phrase: phrase ?? undefined }]);
    },
  );
});

describe('every refusal that the analysis can make', () => {
  const root = resolve(import.meta.dirname, '../../analysis');
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  /** From after an opening bracket to the one that closes it; those in texts come in pairs. */
  const within = (text: string, from: number): string => {
    let depth = 1;
    let to = from;
    for (; depth > 0; to++) depth += text[to] === '(' ? 1 : text[to] === ')' ? -1 : 0;
    return text.slice(from, to - 1);
  };
  const made = files.flatMap((name) => {
    const text = readFileSync(join(root, name), 'utf8');
    return [...text.matchAll(/new AnalysisError\(/g)].map(({ index, 0: found }) => ({
      place: `${name}:${text.slice(0, index).split('\n').length}`,
      worded: /\bphrase:\s/.test(within(text, index + found.length)),
    }));
  });

  it('is found at all: more than 60', () => {
    expect(made.length).toBeGreaterThan(60);
  });

  it('has a phrase, so that no language has to do with its code alone', () => {
    expect(made.filter(({ worded }) => !worded).map(({ place }) => place)).toEqual([]);
  });
});

describe('every reason why an archive is not brought in', () => {
  const folder = resolve(import.meta.dirname, '../../server');
  const reasons = ['exchange', 'routes'].flatMap((room) =>
    readdirSync(join(folder, room)).flatMap((name) =>
      [
        ...readFileSync(join(folder, room, name), 'utf8').matchAll(
          /(?:noArchive|damagedArchive|hugeArchive)\(\s*(['`])((?:(?!\1).)+)\1/g,
        ),
      ].map(([, , why]) =>
        // What varies: numbers stand in capitals or as sizes, names and the checker's words elsewhere.
        why.replace(/\$\{(?:[A-Z_]+|[\w.]*(?:Count|Size))\}/g, '7').replace(/\$\{[^}]*\}/g, 'reading'),
      ),
    ),
  );

  it('is found at all: more than 25', () => {
    expect(reasons.length).toBeGreaterThan(25);
  });

  it.each([...new Set(reasons)])('has its German: %s', (why) => {
    const said = germanArchiveReason(why);
    expect(said).not.toBe(`„${why}“`);
    expect(said.replace(/„[^“]*“/g, '')).not.toMatch(ENGLISH);
    expect(germanNumbers(said)).toEqual(englishNumbers(why));
  });
});
