import type { Kysely } from 'kysely';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { studentT95 } from '../../analysis/across/fading.ts';
import type { Figure } from '../../analysis/across/interval.ts';
import type { Feedback, FeedbackQuery, Judged } from '../contracts/recordUse.ts';
import type { PrintRow, Tables } from '../store/schema.ts';
import type { Desk } from './bookDesk.ts';
import { byEye } from './byEye.ts';
import type { Use } from './calibration.ts';
import { asPrint } from './printRows.ts';

/** Fewest prints that an interval is drawn from. */
const FEWEST = 3;
/** A smaller bias is of no use to a printer: about what a hand at a timer does. Common practice, no source. */
const MATTERS_STOPS = 0.1;
const MOST_PRINTS = 500;

/** Mean of prints with its 90 % interval, by Student's t; no interval below three. */
export const meanFigure = (values: readonly number[]): Figure => {
  if (values.length === 0) return { value: null, low: null, high: null };
  const middle = mean([...values]);
  if (values.length < FEWEST) return { value: middle, low: null, high: null };
  const half =
    (studentT95(values.length - 1) * sampleStandardDeviation([...values])) / Math.sqrt(values.length);
  return { value: middle, low: middle - half, high: middle + half };
};

const isBiased = ({ value, low, high }: Figure): boolean =>
  value !== null && low !== null && high !== null && (low > 0 || high < 0);

/** To which side prints miss, as measured or, where too few were measured, by eye. */
export type PrintBias =
  | { readonly by: 'measured'; readonly stops: number; readonly count: number }
  | { readonly by: 'eye'; readonly side: 'paler' | 'deeper'; readonly count: number; readonly of: number };

type Told = Pick<PrintRow, 'judged' | 'predictedL' | 'reachedL'>;

/** What eyes said of prints that nobody measured and that had something promised. */
const seenOnly = (rows: readonly Told[]): Judged[] =>
  rows.flatMap(({ judged, predictedL, reachedL }) =>
    judged === null || predictedL === null || reachedL !== null ? [] : [judged],
  );

const seenBias = (rows: readonly Told[]): PrintBias | null => {
  const judgements = seenOnly(rows);
  const { leans, ...counts } = byEye(judgements);
  return leans === null ? null : { by: 'eye', side: leans, count: counts[leans], of: judgements.length };
};

/** Do prints made by one calibration miss on one side, by more than a printer would let pass? */
export const biasOf = async (
  db: Kysely<Tables>,
  { dyeId, clothId, lightId }: Use,
  calibrationId: string,
): Promise<PrintBias | null> => {
  const rows = await db
    .selectFrom('prints')
    .select(['missedStops', 'judged', 'predictedL', 'reachedL'])
    .where('dyeId', '=', dyeId)
    .where('clothId', '=', clothId)
    .where('lightId', '=', lightId)
    .where('calibrationId', '=', calibrationId)
    .where('putAwayAt', 'is', null)
    .orderBy('exposedAt', 'desc')
    .limit(MOST_PRINTS)
    .execute();
  const measured = rows.flatMap((row) => (row.missedStops === null ? [] : [row.missedStops]));
  const missed = meanFigure(measured);
  if (missed.value === null || !isBiased(missed) || Math.abs(missed.value) < MATTERS_STOPS)
    return measured.length < FEWEST ? seenBias(rows) : null;
  return { by: 'measured', stops: missed.value, count: measured.length };
};

const seenSentence = ({ paler, right, deeper, leans }: Feedback['byEye']): string =>
  paler + right + deeper === 0
    ? ''
    : `By eye: ${paler} paler, ${right} as promised, ${deeper} deeper than promised${leans === null ? '.' : ', which is more than chance: the times lean to one side. Make a new strip.'}`;

const signed = (stops: number): string => `${stops < 0 ? '−' : ''}${Math.abs(stops).toFixed(2)}`;

const sentenceOf = (count: number, missed: Figure, depth: Figure): string => {
  if (count === 0)
    return 'No print yet with both a predicted and a reached depth. Keep prints with the depth that they reached.';
  if (missed.value === null || missed.low === null || missed.high === null)
    return `${count} print${count === 1 ? '' : 's'} so far: a bias can be told from chance from three on.`;
  const side = missed.value > 0 ? 'deeper' : 'paler';
  // The words say the side, so both ends are turned to it.
  const [low, high] = missed.value > 0 ? [missed.low, missed.high] : [-missed.high, -missed.low];
  const by = `${Math.abs(missed.value).toFixed(2)} stop (90 %: ${signed(low)} to ${signed(high)}), ${Math.abs(depth.value ?? 0).toFixed(1)} % of depth,`;
  return isBiased(missed)
    ? `${count} prints came out ${by} ${side} than predicted: that is more than chance. Make a new strip, or a control scrap.`
    : `${count} prints came out as predicted: on average ${by} ${side}, which chance explains.`;
};

/** How did prints come out against what was predicted? The newest 500 that say both. */
export const feedbackOf = async ({ store }: Desk, query: FeedbackQuery): Promise<Feedback> =>
  store.read(async (db) => {
    let wanted = db
      .selectFrom('prints')
      .selectAll()
      .where('putAwayAt', 'is', null)
      .where('predictedL', 'is not', null)
      .where((e) => e.or([e('reachedL', 'is not', null), e('judged', 'is not', null)]));
    for (const column of ['dyeId', 'clothId', 'lightId'] as const) {
      const id = query[column];
      if (id) wanted = wanted.where(column, '=', id);
    }
    const told = await wanted.orderBy('exposedAt', 'desc').orderBy('id').limit(MOST_PRINTS).execute();
    const rows = told.filter(({ reachedL }) => reachedL !== null);
    const seen = byEye(seenOnly(told));
    const depth = meanFigure(
      rows.flatMap(({ reachedDepthPercent: reached, predictedDepthPercent: predicted }) =>
        reached === null || predicted === null ? [] : [reached - predicted],
      ),
    );
    const stops = rows.flatMap((row) => (row.missedStops === null ? [] : [row.missedStops]));
    const missed = meanFigure(stops);
    return {
      prints: rows.map(asPrint),
      depthPercent: depth,
      missedStops: missed,
      biased: isBiased(missed),
      byEye: seen,
      sentence: [
        // Where all were judged by eye, nothing is to be said of measuring.
        rows.length === 0 && told.length > 0 ? '' : sentenceOf(stops.length || rows.length, missed, depth),
        seenSentence(seen),
      ]
        .filter(Boolean)
        .join(' '),
    };
  });
