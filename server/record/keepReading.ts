import { randomUUID } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Target } from '../../analysis/advice/advice.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import type { Marks } from '../../analysis/locate/marks.ts';
import { marksNeedConfirming } from '../../analysis/locate/marksNeedConfirming.ts';
import type { Taps } from '../../analysis/locate/taps.ts';
import { phrase } from '../../analysis/phrases.ts';
import type { PhotoFacts, Reading } from '../../analysis/reading.ts';
import type { ReadOptions } from '../contracts/readOptions.ts';
import {
  type AgainRequest,
  type EarlierStrip,
  type KeepContext,
  type KeptReading,
  MOST_FURTHER,
  type ReadingLine,
  type ReadingSettings,
} from '../contracts/recordReadings.ts';
import { name } from '../contracts/recordText.ts';
import type { StripDescription } from '../contracts/strip.ts';
import { Refusal } from '../refusal.ts';
import { sha256Of } from '../store/photoFolder.ts';
import type { PhotoRow, ReadingRow, Tables } from '../store/schema.ts';
import { type Desk, found } from './bookDesk.ts';
import { exposedMoment, moment } from './moment.ts';
import { readingLineById, summaryOf } from './readingRows.ts';
import { drawsJsonOf } from './recordedCurve.ts';
import { findOrMake, thingById } from './things.ts';

/** A photo of a strip with everything that is to be kept beside it. */
export interface KeepRequest {
  readonly photo: Uint8Array;
  readonly strip: StripDescription;
  readonly marks?: Marks | undefined;
  /** Points on card and strip to look there. */
  readonly taps?: Taps | undefined;
  /** Further photos of the same strip. */
  readonly also?: readonly { readonly photo: Uint8Array; readonly marks?: Marks }[] | undefined;
  readonly target?: Target | undefined;
  /** The workshop's timer and thresholds; the usual ones when left out. */
  readonly options?: ReadOptions | undefined;
  readonly context: KeepContext;
}

/** A request with the earlier strips that are fitted together with its own. */
interface ReadRequest extends KeepRequest {
  readonly earlier: readonly EarlierStrip[];
}

/** Seed of everything drawn at random when a reading is made for the book. */
const SEED = 1;

const settingsOf = (
  { strip, marks, taps, also = [], earlier, options }: ReadRequest,
  reading: Reading,
): ReadingSettings => ({
  strip,
  marks: marks ?? null,
  ...(taps && { taps }),
  ...(also.length > 0 && {
    also: also.map(({ photo, marks }) => ({ photo: sha256Of(photo), marks: marks ?? null })),
  }),
  ...(earlier.length > 0 && { earlier }),
  target: reading.advice.target,
  ...(options && Object.keys(options).length > 0 && { options }),
  seed: SEED,
});

const readNow = ({ analyst }: Desk, request: ReadRequest, caller?: AbortSignal): Promise<Reading> =>
  analyst.read(
    {
      kind: 'read',
      photo: request.photo,
      strip: parseStrip(request.strip),
      ...(request.marks && { marks: request.marks }),
      ...(request.taps && { taps: request.taps }),
      ...(request.also && { also: request.also }),
      earlier: request.earlier,
      ...(request.target && { target: request.target }),
      ...request.options,
      seed: SEED,
    },
    caller,
  );

const checkConfirmed = (reading: Reading, confirmed: boolean): void => {
  if (!confirmed && marksNeedConfirming(reading.marks))
    throw new Refusal(
      'marks-unconfirmed',
      'Card and steps were not found surely, so this is not kept yet. Look at the marks in the photo, set them by hand where they are off, and keep it again with "confirmed".',
    );
};

const NAMES = [
  ['dye', 'dyeId'],
  ['cloth', 'clothId'],
  ['light', 'lightId'],
] as const;

const checkPhotos = ({ also = [] }: KeepRequest): void => {
  if (also.length > MOST_FURTHER)
    throw new Refusal(
      'request-invalid',
      `A strip may have up to ${MOST_FURTHER + 1} photos; ${also.length + 1} were given. Choose the best of them.`,
      { phrase: phrase('photos-many', { most: MOST_FURTHER + 1, given: also.length + 1 }) },
    );
};

const checkNamed = ({ strip, context }: KeepRequest): void => {
  const missing = NAMES.filter(([what, id]) => context[id] === null && strip[what].trim() === '');
  if (missing.length > 0)
    throw new Refusal(
      'book-incomplete',
      `Say which ${missing.map(([what]) => what).join(', ')} it is: the book finds a reading again by dye, cloth and light.`,
      { phrase: phrase('names-missing', { of: missing.map(([what]) => what) }) },
    );
  for (const [what, id] of NAMES)
    if (context[id] === null && !name.safeParse(strip[what]).success)
      throw new AnalysisError(
        'strip-invalid',
        `The ${what} needs a name of one line, up to 200 characters, without control characters.`,
        { phrase: phrase('name-unfit', { of: what }) },
      );
};

/** What the reading is of, as ids: given ones must be there, names are found or made. */
const placeOf = async (trx: Transaction<Tables>, { strip, context }: KeepRequest, at: string) => {
  const { dyeId, clothId, lightId, batchId, cardId, planId } = context;
  const plain = (name: string) => ({ name: name.trim().replace(/\s+/g, ' '), remark: '' });
  const dye = dyeId
    ? await thingById(trx, 'dyes', dyeId)
    : await findOrMake(trx, 'dyes', plain(strip.dye), at);
  const cloth = clothId
    ? await thingById(trx, 'cloths', clothId)
    : await findOrMake(trx, 'cloths', plain(strip.cloth), at);
  const newLight = { kind: context.lightKind, distanceCm: null, glass: '', lampHours: null };
  const light = lightId
    ? await thingById(trx, 'lights', lightId)
    : await findOrMake(trx, 'lights', { ...plain(strip.light), ...newLight }, at);
  if (batchId) await thingById(trx, 'batches', batchId);
  if (cardId) await thingById(trx, 'cards', cardId);
  if (planId) await thingById(trx, 'plans', planId);
  return { dyeId: dye.id, clothId: cloth.id, light };
};

/** The light's meter as last seen goes up with what is kept. */
export const noteLampHours = async (
  trx: Transaction<Tables>,
  light: { readonly id: string; readonly lampHours: number | null },
  lampHours: number | null,
  at: string,
): Promise<void> => {
  if (lampHours === null || (light.lampHours ?? -1) >= lampHours) return;
  await trx.updateTable('lights').set({ lampHours, changedAt: at }).where('id', '=', light.id).execute();
};

/** The strips that are to be fitted together with this one, as they are kept. @throws Refusal. */
const earlierStrips = async (desk: Desk, { context }: KeepRequest): Promise<readonly EarlierStrip[]> =>
  desk.store.read(async (db) => {
    const strips: EarlierStrip[] = [];
    for (const id of context.withIds ?? []) {
      const { reading } = await settingsById(db, id);
      const { photo } = await readingLineById(db, id);
      if (reading.curve.kind !== 'fitted')
        throw new Refusal(
          'no-calibration',
          `A strip that was to be fitted together with this one has no curve: ${reading.curve.message} Leave it out.`,
          { phrase: phrase('no-curve-beside', { reason: reading.curve.phrase ?? null }) },
        );
      const { points, covarianceL } = reading.curve.curve;
      strips.push({ photo, points, covarianceL });
    }
    return strips;
  });

/** Strips are fitted together only where dye, cloth and light are one. @throws Refusal `book-conflict`. */
const checkTogether = async (
  trx: Transaction<Tables>,
  ids: readonly string[],
  of: { readonly dyeId: string; readonly clothId: string; readonly lightId: string },
): Promise<void> => {
  for (const id of ids) {
    const { dyeId, clothId, lightId } = await trx
      .selectFrom('readings')
      .select(['dyeId', 'clothId', 'lightId'])
      .where('id', '=', id)
      .executeTakeFirstOrThrow();
    if (dyeId !== of.dyeId || clothId !== of.clothId || lightId !== of.lightId)
      throw new Refusal(
        'book-conflict',
        'Strips of different dyes, cloths or lights can not be fitted together. Leave the other strip out, or put its name right.',
        { phrase: phrase('strips-of-different', {}) },
      );
  }
};

/** The same reading sent once more: its row, or null where the id is new. */
const sentBefore = async (
  desk: Desk,
  { photo, also = [], context }: KeepRequest,
): Promise<KeptReading | null> => {
  const { id } = context;
  if (id === undefined) return null;
  const row = await desk.store.read((db) =>
    db.selectFrom('readings').select('photo').where('id', '=', id).executeTakeFirst(),
  );
  if (!row) return null;
  const kept = await keptReadingById(desk, id);
  const photos = [row.photo, ...(kept.settings.also ?? []).map((other) => other.photo)];
  const sent = [photo, ...also.map((other) => other.photo)].map(sha256Of);
  if (photos.join() !== sent.join())
    throw new Refusal(
      'book-conflict',
      'The book has another reading under this id. Send it under a new one.',
      { phrase: phrase('id-taken', {}) },
    );
  return kept;
};

type Written = Pick<ReadingRow, 'supersedesId' | 'readAt'> & { readonly confirmed: boolean };

const photoRow = (
  sha256: string,
  { byteLength }: Uint8Array,
  { format, widthPx, heightPx }: PhotoFacts,
  createdAt: string,
): PhotoRow => ({ sha256, bytes: byteLength, format, widthPx, heightPx, createdAt });

/** Photos first, then all rows at once: no row is ever without its photos. */
const write = async (
  desk: Desk,
  request: ReadRequest,
  reading: Reading,
  { supersedesId, readAt, confirmed }: Written,
): Promise<KeptReading> => {
  const { context, photo } = request;
  const exposedAt = exposedMoment(context.exposedAt, desk.now());
  const draws = drawsJsonOf(reading);
  const sha256 = await desk.store.photos.keep(photo);
  const photos = [photoRow(sha256, photo, reading.photo, readAt)];
  for (const [i, other] of (request.also ?? []).entries())
    photos.push(
      photoRow(
        await desk.store.photos.keep(other.photo),
        other.photo,
        found(reading.furtherPhotos?.[i], 'photo'),
        readAt,
      ),
    );
  const id = context.id ?? randomUUID();
  const body = {
    settingsJson: JSON.stringify(settingsOf(request, reading)),
    readingJson: JSON.stringify(reading),
  };
  await desk.store.write(async (trx) => {
    const { dyeId, clothId, light } = await placeOf(trx, request, readAt);
    await checkTogether(trx, context.withIds ?? [], { dyeId, clothId, lightId: light.id });
    await trx
      .insertInto('photos')
      .values(photos)
      .onConflict((c) => c.column('sha256').doNothing())
      .execute();
    await trx
      .insertInto('readings')
      .values({
        id,
        createdAt: readAt,
        changedAt: readAt,
        putAwayAt: null,
        purpose: context.purpose,
        dyeId,
        clothId,
        lightId: light.id,
        batchId: context.batchId,
        lampHours: context.lampHours,
        sky: context.sky,
        exposedAt,
        cardId: context.cardId,
        planId: context.planId,
        photo: sha256,
        readAt,
        supersedesId,
        confirmed: confirmed || !marksNeedConfirming(reading.marks) ? 1 : 0,
        cardKey: JSON.stringify(request.strip.card),
        ...summaryOf(reading, context.remark),
      })
      .execute();
    await trx
      .insertInto('readingBodies')
      .values({ readingId: id, ...body })
      // What lies there without a row is of an archive that has not come in.
      .onConflict((c) => c.column('readingId').doUpdateSet(body))
      .execute();
    if (draws !== null)
      await trx.insertInto('curveDraws').values({ readingId: id, drawsJson: draws }).execute();
    await noteLampHours(trx, light, context.lampHours, readAt);
  });
  // An archive that failed takes its photos away unless a row names them; one of them may have been this one.
  for (const [i, bytes] of [photo, ...(request.also ?? []).map((other) => other.photo)].entries())
    if (!(await desk.store.photos.has(photos[i].sha256))) await desk.store.photos.keep(bytes);
  return keptReadingById(desk, id);
};

/**
 * Reads the photos of a strip and keeps photos and reading. When it returns, both are on the disk.
 *
 * @throws AnalysisError; Refusal `marks-unconfirmed`, `book-incomplete`, `not-found`, `book-conflict` and those of the store.
 */
export const keepReading = async (
  desk: Desk,
  request: KeepRequest,
  caller?: AbortSignal,
): Promise<KeptReading> => {
  checkNamed(request);
  checkPhotos(request);
  const before = await sentBefore(desk, request);
  if (before) return before;
  exposedMoment(request.context.exposedAt, desk.now());
  const whole = { ...request, earlier: await earlierStrips(desk, request) };
  const reading = await readNow(desk, whole, caller);
  checkConfirmed(reading, request.context.confirmed);
  return write(desk, whole, reading, {
    supersedesId: null,
    readAt: moment(desk.now()),
    confirmed: request.context.confirmed,
  });
};

/** @throws Refusal `not-found`. */
export const settingsById = async (db: Kysely<Tables>, id: string) => {
  const { settingsJson, readingJson } = found(
    await db.selectFrom('readingBodies').selectAll().where('readingId', '=', id).executeTakeFirst(),
    'reading',
  );
  return {
    settings: JSON.parse(settingsJson) as ReadingSettings,
    reading: JSON.parse(readingJson) as Reading,
  };
};

/** A kept reading, whole. @throws Refusal `not-found`. */
export const keptReadingById = async ({ store }: Desk, id: string): Promise<KeptReading> =>
  store.read(async (db) => {
    const line = await readingLineById(db, id);
    const { settings, reading } = await settingsById(db, id);
    return { line, settings, reading, photoHref: `/api/record/photos/${line.photo}` } as KeptReading;
  });

const contextOf = (line: ReadingLine, changes: AgainRequest): KeepContext => ({
  purpose: line.purpose,
  dyeId: line.dyeId,
  clothId: line.clothId,
  lightId: line.lightId,
  lightKind: 'lamps',
  batchId: line.batchId,
  cardId: line.cardId,
  planId: line.planId,
  lampHours: line.lampHours,
  sky: line.sky,
  exposedAt: line.exposedAt,
  confirmed: changes.confirmed,
  remark: changes.remark ?? line.remark,
});

/**
 * Reads kept photos again, with the method as it is now and what is to be different, and keeps that as a new reading
 * that points to the old. The old one stays as it is.
 *
 * @throws AnalysisError; Refusal `not-found`, `photo-lost`, `marks-unconfirmed` and those of the store.
 */
export const readAgain = async (
  desk: Desk,
  id: string,
  changes: AgainRequest,
  caller?: AbortSignal,
): Promise<KeptReading> => {
  const { line, settings } = await keptReadingById(desk, id);
  const photo = await desk.store.photos.read(line.photo);
  if (changes.taps && changes.marks)
    throw new Refusal('request-invalid', 'Give marks or points to look at, not both.');
  const asBefore = changes.marks === undefined && changes.taps === undefined;
  const marks = asBefore ? settings.marks : (changes.marks ?? null);
  const taps = asBefore ? settings.taps : changes.taps;
  const also = await Promise.all(
    (settings.also ?? []).map(async (other, i) => {
      const given = changes.alsoMarks === undefined ? other.marks : (changes.alsoMarks[i] ?? null);
      return { photo: await desk.store.photos.read(other.photo), ...(given && { marks: given }) };
    }),
  );
  const request: ReadRequest = {
    photo,
    strip: changes.strip ?? settings.strip,
    ...(marks && { marks }),
    ...(taps && { taps }),
    ...(also.length > 0 && { also }),
    earlier: settings.earlier ?? [],
    target: changes.target ?? settings.target,
    options: changes.options ?? settings.options,
    context: contextOf(line, changes),
  };
  const reading = await readNow(desk, request, caller);
  const confirmed = changes.confirmed || (line.confirmed && asBefore);
  checkConfirmed(reading, confirmed);
  return write(desk, request, reading, { supersedesId: id, readAt: moment(desk.now()), confirmed });
};
