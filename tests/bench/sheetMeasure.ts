import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { overlapShare } from '../../analysis/locate/quadGeometry.ts';
import { findOnSheet } from '../../analysis/locate/sheetMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { PaperName } from '../../analysis/sheet/layout.ts';
import { type PaperOptions, type PrintedPage, samplePaperScene } from '../../fixtures/paper.ts';
import { photographPaper } from '../../fixtures/paperPhoto.ts';
import { printedSheet } from '../helpers/printedSheet.ts';
import { inPlace, sameArea } from './inPlace.ts';

export const SHEET_PLAN = '0b8f6c3e-7d64-4c1e-9d8a-3a5b6c7d8e9f';

/** One rendered photo of the printed sheet, found and read. Plain data. */
export interface SheetFound {
  readonly seed: number;
  readonly outcome: 'found' | 'uncertain' | 'not-found' | 'no-sheet';
  /** Every step's and patch's middle inside the true one, and 60 % of that covered. */
  readonly right: boolean;
  /** The same where areas that are too large count as wrong as well. */
  readonly same: boolean;
  readonly confidence: number;
  readonly codeRead: boolean;
  readonly covered: boolean;
  readonly tiltDegrees: number;
  readonly pieces: string;
  readonly card: string;
  /** Smallest overlap of a step with the true one, 0..1. */
  readonly leastOverlap: number;
  /** L* errors with marks as found, and with true marks and the same surround; null where not read. */
  readonly errors: readonly number[] | null;
  readonly errorsTrue: readonly number[] | null;
}

const pages = new Map<string, Promise<PrintedPage>>();

/** The real sheet, printed once in each resolution. */
export const pageOf = (paper: PaperName, dotsPerInch = 200): Promise<PrintedPage> => {
  const key = `${paper} ${dotsPerInch}`;
  const page = pages.get(key) ?? printedSheet(paper, SHEET_PLAN, dotsPerInch);
  pages.set(key, page);
  return page;
};

/** Photographs, finds and reads one sheet; odd seeds on American paper. */
export const measureSheet = async (
  seed: number,
  { read = true, ...options }: PaperOptions & { readonly read?: boolean } = {},
): Promise<SheetFound> => {
  const page = await pageOf(seed % 2 === 0 ? 'a4' : 'letter', (options.widthPx ?? 0) > 2400 ? 300 : 200);
  const paper = samplePaperScene(seed, page, options);
  const scene = await photographPaper(paper, page);
  const strip = parseStrip(scene.strip);
  const { pose } = paper.scene;
  const about = {
    seed,
    covered: paper.covered !== null,
    tiltDegrees: Math.hypot(pose.tiltXDegrees, pose.tiltYDegrees),
    pieces: paper.scene.strip.pieces,
    card: paper.scene.card.kind,
  };
  const onSheet = await findOnSheet(await decodePhoto(scene.bytes), strip);
  if (!onSheet || onSheet.found.kind === 'not-found')
    return {
      ...about,
      outcome: onSheet ? 'not-found' : 'no-sheet',
      right: false,
      same: false,
      confidence: 0,
      codeRead: onSheet?.planId === SHEET_PLAN,
      leastOverlap: 0,
      errors: null,
      errorsTrue: null,
    };
  const { marks, kind, confidence } = onSheet.found;
  const truth = parseMarks(scene.marks);
  const trueCard = new Map(truth.card.map(({ name, quad }) => [name, quad]));
  const all = (liesOn: typeof inPlace): boolean =>
    marks.steps.every(({ quad }, i) => liesOn(quad, truth.steps[i].quad)) &&
    marks.card.every(({ name, quad }) => liesOn(quad, trueCard.get(name) ?? quad));
  const errorsWith = async (given?: typeof marks): Promise<number[]> => {
    const reading = await readStrip(scene.bytes, strip, given ? { marks: given } : {});
    return reading.steps.map(({ L }, i) => L - scene.truth.steps[i].L);
  };
  return {
    ...about,
    outcome: kind,
    right: all(inPlace),
    same: all(sameArea),
    confidence,
    codeRead: onSheet.planId === SHEET_PLAN,
    leastOverlap: Math.min(...marks.steps.map(({ quad }, i) => overlapShare(quad, truth.steps[i].quad))),
    errors: read ? await errorsWith() : null,
    errorsTrue: read
      ? await errorsWith({ ...truth, ...(marks.surround && { surround: marks.surround }) })
      : null,
  };
};
