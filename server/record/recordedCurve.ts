import type { Kysely } from 'kysely';
import type { RecordedCurve } from '../../analysis/across/recorded.ts';
import { type BootstrapSet, bootstrapCurve } from '../../analysis/curve/bootstrap.ts';
import type { Curve } from '../../analysis/curve/curve.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { Reading } from '../../analysis/reading.ts';
import { Refusal } from '../refusal.ts';
import type { Store } from '../store/openStore.ts';
import type { Tables } from '../store/schema.ts';
import { found } from './bookDesk.ts';

/** Seed of the curves that are kept beside a reading: the one that readings themselves are made with. */
const SEED = 1;

/** Other curves that this reading's strip could have shown, as they are kept; null where it has no curve. */
export const drawsJsonOf = (reading: Reading): string | null =>
  reading.curve.kind === 'fitted'
    ? JSON.stringify(bootstrapCurve(reading.curve.curve, { seed: SEED }).shapes)
    : null;

/** A kept reading with its curve, ready to be asked. */
export interface RecordedReading extends RecordedCurve {
  readonly reading: Reading;
  readonly curve: Curve;
  /** The curves beside it are in the book; an archive does not bring them along. */
  readonly drawsKept: boolean;
}

/**
 * A kept reading's curve and the curves drawn beside it; drawn anew where they were not kept.
 *
 * @throws Refusal `not-found`; `no-calibration` where the reading has no curve.
 */
export const recordedReading = async (db: Kysely<Tables>, id: string): Promise<RecordedReading> => {
  const body = found(
    await db
      .selectFrom('readingBodies')
      .leftJoin('curveDraws', 'curveDraws.readingId', 'readingBodies.readingId')
      .select(['readingJson', 'drawsJson'])
      .where('readingBodies.readingId', '=', id)
      .executeTakeFirst(),
    'reading',
  );
  const reading = JSON.parse(body.readingJson) as Reading;
  if (reading.curve.kind !== 'fitted')
    throw new Refusal(
      'no-calibration',
      `That reading has no curve to go by: ${reading.curve.message} Choose another calibration.`,
      { phrase: phrase('no-curve-to-go-by', { reason: reading.curve.phrase ?? null }) },
    );
  const { curve } = reading.curve;
  const set: BootstrapSet =
    body.drawsJson === null
      ? bootstrapCurve(curve, { seed: SEED })
      : { seed: SEED, shapes: JSON.parse(body.drawsJson) };
  return { reading, curve, set, drawsKept: body.drawsJson !== null };
};

/** Keeps the curves that were drawn for a reading, so that the next question need not draw them; left where that fails. */
export const keepDraws = async (
  store: Pick<Store, 'write'>,
  readingId: string,
  { set }: RecordedReading,
): Promise<void> => {
  const drawsJson = JSON.stringify(set.shapes);
  try {
    await store.write((db) =>
      db
        .insertInto('curveDraws')
        .values({ readingId, drawsJson })
        .onConflict((c) => c.column('readingId').doNothing())
        .execute(),
    );
  } catch (error) {
    // The answer stands without: a book that can't be written just now can still be asked.
    if (!(error instanceof Refusal)) throw error;
  }
};
