import type { Kysely } from 'kysely';
import type { Target } from '../../analysis/advice/advice.ts';
import { advise } from '../../analysis/advice/advise.ts';
import { targetWords } from '../../analysis/advice/sentence.ts';
import { clock, settable } from '../../analysis/advice/settable.ts';
import { targetOnCurve } from '../../analysis/advice/target.ts';
import { depthPercent, lightnessAt } from '../../analysis/curve/evaluate.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { Doubt, Today, TodayQuestion } from '../contracts/recordUse.ts';
import type { Tables } from '../store/schema.ts';
import type { Desk } from './bookDesk.ts';
import { type Chosen, type ControlOfCalibration, chooseCalibration, controlsOf } from './calibration.ts';
import { ageWords, type Circumstances, doubtsOf } from './doubts.ts';
import { biasOf } from './feedback.ts';
import { daysBetween, moment } from './moment.ts';
import { type Moved, movedByControls, movedBySky, movedTime } from './movedTime.ts';
import { keepDraws, recordedReading } from './recordedCurve.ts';
import { thingById } from './things.ts';

/** How long a control scrap in the sun speaks for the light. Common practice, no source. */
const SUN_CONTROL_DAYS = 0.5;

/** A question with its moment and names, asked of the book. */
export interface Asked {
  readonly question: TodayQuestion;
  readonly at: string;
  readonly lightKind: 'lamps' | 'sun';
}

/** A calibration with what moves its times today. */
export interface Standing {
  readonly chosen: Chosen;
  readonly recorded: Awaited<ReturnType<typeof recordedReading>>;
  readonly controls: readonly ControlOfCalibration[];
  readonly moved: Moved;
}

const daysBefore = (at: string, days: number): string => moment(new Date(Date.parse(at) - days * 86_400_000));

/** The calibration that answers a question and what moves it; null where the book has none. */
export const standingOf = async (
  db: Kysely<Tables>,
  { question, at, lightKind }: Asked,
): Promise<Standing | null> => {
  const chosen = await chooseCalibration(db, question, { at, batchId: question.batchId });
  if (!chosen) return null;
  const recorded = await recordedReading(db, chosen.row.id);
  const since = chosen.row.exposedAt;
  const from =
    lightKind === 'sun'
      ? [daysBefore(at, SUN_CONTROL_DAYS), since].sort()[1]
      : chosen.otherLight
        ? ''
        : since;
  const controls = await controlsOf(db, chosen.row, question.lightId, { from, to: at });
  const byControls = movedByControls(recorded, controls, question.lampHours);
  const moved =
    byControls.by === 'nothing' && lightKind === 'sun'
      ? movedBySky(chosen.row.sky, question.sky)
      : byControls;
  return { chosen, recorded, controls, moved };
};

const batchOf = async (db: Kysely<Tables>, id: string | null) =>
  id === null ? null : thingById(db, 'batches', id);

const circumstancesOf = async (
  db: Kysely<Tables>,
  { question, at, lightKind }: Asked,
  { chosen: { row, otherLight }, controls }: Standing,
): Promise<Circumstances> => {
  const newest = controls.at(-1);
  return {
    at,
    lightKind,
    lampHours: question.lampHours,
    sky: question.sky,
    batch: await batchOf(db, question.batchId),
    cardId: question.cardId,
    calibration: {
      exposedAt: row.exposedAt,
      lampHours: row.lampHours,
      sky: row.sky,
      batch: await batchOf(db, row.batchId),
      cardId: row.cardId,
      relative: row.relative === 1,
      marksConfirmed: row.confirmed === 1,
      methodVersion: row.methodVersion,
      otherLight,
    },
    newestControl: newest
      ? {
          exposedAt: newest.exposedAt,
          told: newest.shiftStops !== null,
          batchId: newest.batchId,
          lampHours: newest.lampHours,
          cardKey: newest.cardKey,
        }
      : null,
    calibrationCardKey: row.cardKey,
    printsMissed: await biasOf(db, question, row.id),
  };
};

const doubtLine = (doubts: readonly Doubt[]): string => {
  const worst = doubts.filter((d) => d.weight === 'distrust');
  if (worst.length === 0) return '';
  return `Check it on a scrap first: ${worst.length === 1 ? 'one reason speaks' : `${worst.length} reasons speak`} against it.`;
};

/** The answer from a calibration that stands. */
const todayFrom = async (
  db: Kysely<Tables>,
  asked: Asked,
  target: Target,
  standing: Standing,
): Promise<Today> => {
  const { question, at } = asked;
  const { chosen, recorded, moved } = standing;
  const { row } = chosen;
  const { curve } = recorded;
  const time = movedTime(recorded, target, moved);
  const doubts = doubtsOf(await circumstancesOf(db, asked, standing), moved, time);
  const ageDays = daysBetween(row.exposedAt, at);
  const shared = {
    target,
    basis: {
      readingId: row.id,
      exposedAt: row.exposedAt,
      ageDays,
      methodVersion: row.methodVersion,
      lampHours: row.lampHours,
      batchId: row.batchId,
      sky: row.sky,
      ofHowMany: chosen.ofHowMany,
    },
    moved: {
      by: moved.by,
      shiftStops: moved.shiftStops,
      controlIds: moved.controls.map((control) => control.id),
      sentence: moved.sentence,
    },
    doubts,
  };
  if (time.kind !== 'time') {
    const advice = advise(recorded.reading.curve, target, { bootstrap: recorded.set });
    return {
      kind: 'no-time',
      ...shared,
      status: advice.status,
      sentence: advice.sentence,
      phrase: phrase('no-time-today', {
        targetL: advice.targetL,
        unattainable: advice.status === 'unattainable',
        shortest: curve.shortestSeconds,
        longest: curve.longestSeconds,
        baseL: curve.baseL,
        deepestL: curve.deepestL,
      }),
      nextStrip: advice.nextStrip,
    };
  }
  const { seconds, low, high, highOpen, latest } = time;
  const roundedSeconds = settable(seconds, latest, question.timerStepSeconds);
  const predictedL = lightnessAt(curve, roundedSeconds * 2 ** (moved.shiftStops.value ?? 0));
  const predictedDepthPercent = depthPercent(curve, predictedL);
  const words = targetWords(target, targetOnCurve(curve, target).L);
  const interval = highOpen
    ? `Nine times in ten the right time is ${clock(low)} or longer.`
    : `Nine times in ten the right time lies between ${clock(low)} and ${clock(high)}.`;
  return {
    kind: 'time',
    ...shared,
    seconds,
    low,
    high,
    highOpen,
    roundedSeconds,
    predictedL,
    predictedDepthPercent,
    trusted: doubts.every((d) => d.weight === 'note'),
    sentence: [
      `Expose for ${clock(roundedSeconds)} to get ${words}: that gives L* ${predictedL.toFixed(1)}, ${predictedDepthPercent.toFixed(0)} % depth.`,
      interval,
      `The calibration was exposed ${ageWords(ageDays)}.`,
      doubtLine(doubts),
    ]
      .filter(Boolean)
      .join(' '),
  };
};

/**
 * How long today? From the latest valid calibration of this dye, cloth and light, moved by control scraps made since, or
 * in the sun by the sky; with a 90 % interval, the calibration's age, and why it should not be trusted as it stands.
 *
 * @throws Refusal `not-found` for a dye, cloth, light, batch or card that is not in the book.
 */
export const whatTimeToday = async ({ store, now }: Desk, question: TodayQuestion): Promise<Today> => {
  const { answer, standing } = await store.read(async (db) => {
    const at = question.at === undefined ? moment(now()) : moment(question.at);
    const target: Target = question.target ?? { kind: 'full' };
    const dye = await thingById(db, 'dyes', question.dyeId);
    const cloth = await thingById(db, 'cloths', question.clothId);
    const light = await thingById(db, 'lights', question.lightId);
    if (question.cardId) await thingById(db, 'cards', question.cardId);
    const asked = { question, at, lightKind: light.kind };
    const standing = await standingOf(db, asked);
    if (standing) return { answer: await todayFrom(db, asked, target, standing), standing };
    const answer: Today = {
      kind: 'no-calibration',
      target,
      sentence: `The book has no calibration of ${dye.name} on ${cloth.name} under ${light.name}. Make a test strip and keep its photo; or keep a control scrap under this light, held against a calibration under another.`,
    };
    return { answer, standing };
  });
  if (standing && !standing.recorded.drawsKept)
    await keepDraws(store, standing.chosen.row.id, standing.recorded);
  return answer;
};
