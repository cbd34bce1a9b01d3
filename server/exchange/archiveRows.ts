import type { Insertable, Selectable } from 'kysely';
import type { Reading } from '../../analysis/reading.ts';
import type { ArchivedPhoto, ArchivedReading, BookFile, ReadingFile } from '../contracts/archive.ts';
import { moment } from '../record/moment.ts';
import { nameKey } from '../record/nameKey.ts';
import { summaryOf } from '../record/readingRows.ts';
import type { Tables } from '../store/schema.ts';

type Row<T extends keyof Tables> = Selectable<Tables[T]>;
type New<T extends keyof Tables> = Insertable<Tables[T]>;
/** Kinds of rows that a printer names or plans. */
export type ThingKind = 'dyes' | 'cloths' | 'lights' | 'batches' | 'cards' | 'plans';
export type ThingIn<K extends ThingKind> = BookFile[K][number];

const withoutKey = ({ nameKey: _, ...rest }: Row<'dyes'>) => rest;

/** Rows of the book as an archive has them: JSON laid open, nothing that follows from the rest. */
export const archived = {
  dyes: withoutKey,
  cloths: withoutKey,
  lights: ({ nameKey: _, ...rest }: Row<'lights'>) => rest,
  batches: ({ nameKey: _, ...rest }: Row<'batches'>) => rest,
  cards: ({ nameKey: _, cardJson, ...rest }: Row<'cards'>) => ({ ...rest, card: JSON.parse(cardJson) }),
  plans: ({ secondsJson, planJson, ...rest }: Row<'plans'>) => ({
    ...rest,
    seconds: JSON.parse(secondsJson),
    plan: JSON.parse(planJson),
  }),
  photos: (row: Row<'photos'>, lost: boolean): ArchivedPhoto => ({
    ...(row as Omit<ArchivedPhoto, 'lost'>),
    lost,
  }),
  readings: (row: Row<'readings'>, body: string): ArchivedReading => ({
    id: row.id,
    createdAt: row.createdAt,
    changedAt: row.changedAt,
    putAwayAt: row.putAwayAt,
    purpose: row.purpose,
    dyeId: row.dyeId,
    clothId: row.clothId,
    lightId: row.lightId,
    batchId: row.batchId,
    lampHours: row.lampHours,
    sky: row.sky,
    exposedAt: row.exposedAt,
    cardId: row.cardId,
    planId: row.planId,
    photo: row.photo,
    readAt: row.readAt,
    supersedesId: row.supersedesId,
    confirmed: row.confirmed === 1,
    remark: row.remark,
    body,
  }),
  controls: ({ scrapsJson, shiftStops, shiftLow, shiftHigh, ...rest }: Row<'controls'>) => ({
    ...rest,
    scraps: JSON.parse(scrapsJson),
    shiftStops: { value: shiftStops, low: shiftLow, high: shiftHigh },
  }),
  prints: ({ targetJson, ...rest }: Row<'prints'>) => ({
    ...rest,
    target: targetJson === null ? null : JSON.parse(targetJson),
  }),
  notes: ({ onKind, onId, ...rest }: Row<'notes'>) => ({ ...rest, on: { kind: onKind, id: onId } }),
} as const;

interface Dated {
  readonly createdAt: string;
  readonly changedAt: string;
  readonly putAwayAt: string | null;
}

/** Moments in the one form that the book sorts by. */
const dated = <T extends Dated>(row: T): T => ({
  ...row,
  createdAt: moment(row.createdAt),
  changedAt: moment(row.changedAt),
  putAwayAt: row.putAwayAt === null ? null : moment(row.putAwayAt),
});

const named = <T extends Dated & { readonly name: string }>(row: T) => ({
  ...dated(row),
  nameKey: nameKey(row.name),
});

/** Things of an archive as rows of the book. */
export const thingRow: { readonly [K in ThingKind]: (row: ThingIn<K>) => New<K> } = {
  dyes: named,
  cloths: named,
  lights: named,
  batches: (row) => ({ ...named(row), mixedAt: moment(row.mixedAt) }),
  cards: ({ card, ...row }) => ({ ...named(row), cardJson: JSON.stringify(card) }),
  plans: ({ seconds, plan, ...row }) => ({
    ...dated(row),
    secondsJson: JSON.stringify(seconds),
    planJson: JSON.stringify(plan),
  }),
};

export const photoRow = ({ lost: _, createdAt, ...row }: ArchivedPhoto): New<'photos'> => ({
  ...row,
  createdAt: moment(createdAt),
});

/** A reading of an archive as its two rows; what is listed and chosen by is worked out from the reading itself. */
export const readingRows = (
  { body: _, confirmed, remark, ...row }: ArchivedReading,
  { settings, reading }: ReadingFile,
): { readonly line: New<'readings'>; readonly body: New<'readingBodies'> } => ({
  line: {
    ...dated(row),
    exposedAt: moment(row.exposedAt),
    readAt: moment(row.readAt),
    confirmed: confirmed ? 1 : 0,
    cardKey: JSON.stringify(settings.strip.card),
    ...summaryOf(reading as unknown as Reading, remark),
  },
  body: {
    readingId: row.id,
    settingsJson: JSON.stringify(settings),
    readingJson: JSON.stringify(reading),
  },
});

export const controlRow = ({
  scraps,
  shiftStops,
  ...row
}: BookFile['controls'][number]): New<'controls'> => ({
  ...dated(row),
  exposedAt: moment(row.exposedAt),
  scrapsJson: JSON.stringify(scraps),
  shiftStops: shiftStops.value,
  shiftLow: shiftStops.low,
  shiftHigh: shiftStops.high,
});

export const printRow = ({ target, ...row }: BookFile['prints'][number]): New<'prints'> => ({
  ...dated(row),
  exposedAt: moment(row.exposedAt),
  targetJson: target === null ? null : JSON.stringify(target),
});

export const noteRow = ({ on, ...row }: BookFile['notes'][number]): New<'notes'> => ({
  ...dated(row),
  onKind: on.kind,
  onId: on.id,
});
