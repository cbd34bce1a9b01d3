import type { Context, Handler, Hono } from 'hono';
import { z } from 'zod';
import { AnalysisError } from '../../analysis/errors.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { parseTaps } from '../../analysis/locate/taps.ts';
import { phrase } from '../../analysis/phrases.ts';
import { furtherPhotos } from '../alsoMarks.ts';
import { readOptions } from '../contracts/readOptions.ts';
import { againRequest, keepContext, readingFilter } from '../contracts/recordReadings.ts';
import { away, id, page, sha256 } from '../contracts/recordText.ts';
import {
  batchFields,
  cardFields,
  clothFields,
  dyeFields,
  lightFields,
  newPlanFields,
  planFields,
} from '../contracts/recordThings.ts';
import {
  type BookAnswer,
  controlFields,
  feedbackQuery,
  type Health,
  noteFields,
  noteQuery,
  printFields,
  printReached,
  rowName,
  todayQuestion,
  useQuery,
} from '../contracts/recordUse.ts';
import { target as targetShape } from '../contracts/target.ts';
import type { Door } from '../door.ts';
import { readForm } from '../formFields.ts';
import { bodyBy, parsedBy, queryBy } from '../parsedBy.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';
import type { Book } from '../record/book.ts';
import type { Desk } from '../record/bookDesk.ts';
import { found } from '../record/bookDesk.ts';
import { keepControl, listControls } from '../record/controls.ts';
import { describedStrip } from '../record/describedStrip.ts';
import { feedbackOf } from '../record/feedback.ts';
import { keepReading, keptReadingById, readAgain } from '../record/keepReading.ts';
import { keepPrint, listPrints, sayReached } from '../record/prints.ts';
import { listReadings } from '../record/readingRows.ts';
import { countRows, listNotes, setPutAway, writeNote } from '../record/rows.ts';
import { changeThing, listThings, makeThing, type ThingTable } from '../record/things.ts';
import { whatTimeToday } from '../record/today.ts';
import { Refusal } from '../refusal.ts';
import { shortPlace } from '../store/dataFolder.ts';

const THINGS = {
  dyes: dyeFields,
  cloths: clothFields,
  lights: lightFields,
  batches: batchFields,
  cards: cardFields,
  plans: planFields,
} as const satisfies Record<ThingTable, z.ZodObject>;

const listQuery = z.object({ away, ...page });
const idOf = (c: Context): string => parsedBy(z.object({ id }), { id: c.req.param('id') }).id;

const targetOf = (json: unknown) => {
  const parsed = targetShape.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new AnalysisError(
    'target-invalid',
    'The target must be an L* from 0 to 100, a depth above 0 and up to 100 %, full depth, or a swatch.',
    { phrase: phrase('target-unfit', {}) },
  );
};

const postKept = async (c: Context, desk: Desk): Promise<Response> => {
  const form = await readForm(c);
  const photo = await form.photo();
  const marks = form.json('marks');
  const taps = form.json('taps');
  const also = furtherPhotos(await form.otherPhotos('also'), form.json('alsoMarks'));
  const target = form.json('target');
  const timerStepSeconds = form.json('timerStepSeconds');
  const verdictSettings = form.json('verdictSettings');
  const kept = await keepReading(
    desk,
    {
      photo,
      strip: describedStrip(form.json('strip')),
      ...(marks !== undefined && { marks: parseMarks(marks) }),
      ...(taps !== undefined && { taps: parseTaps(taps) }),
      ...(also.length > 0 && { also }),
      ...(target !== undefined && { target: targetOf(target) }),
      options: parsedBy(readOptions, {
        ...(timerStepSeconds !== undefined && { timerStepSeconds }),
        ...(verdictSettings !== undefined && { verdictSettings }),
      }),
      context: parsedBy(keepContext, form.json('context') ?? {}),
    },
    c.req.raw.signal,
  );
  return c.json(kept, 201);
};

const MEDIA: Readonly<Record<string, string>> = {
  jpeg: 'image/jpeg',
  jpg: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
  heic: 'image/heic',
  heif: 'image/heif',
  avif: 'image/avif',
  tiff: 'image/tiff',
};

const shaOf = (c: Context): string =>
  parsedBy(z.object({ sha256 }), { sha256: c.req.param('sha256') }).sha256;

const photoRow = (desk: Desk, sha: string) =>
  desk.store.read(async (db) =>
    found(
      await db.selectFrom('photos').select('format').where('sha256', '=', sha).executeTakeFirst(),
      'photo',
    ),
  );

/** GET /api/health: does the server run, and can it use its book? */
const getHealth =
  (book: Book, version: string): Handler =>
  async (c) => {
    const answer: Health = await book
      .desk()
      .then(async (desk) => {
        await countRows(desk);
        return { status: 'ok' as const, version, message: 'The server runs and its book is open.' };
      })
      .catch((error: unknown) => {
        if (!(error instanceof Refusal)) throw error;
        return { status: 'no-book' as const, version, message: error.message };
      });
    return c.json(answer);
  };

/** The addresses of the book. */
export const recordRoutes = (
  app: Hono,
  { book, previews, door, version }: { book: Book; previews: PhotoPreviews; door: Door; version: string },
): void => {
  const at =
    (handle: (c: Context, desk: Desk) => Promise<Response>): Handler =>
    async (c) =>
      handle(c, await book.desk());

  app.get('/api/health', getHealth(book, version));
  app.get(
    '/api/record',
    at(async (c, desk) => {
      const answer: BookAnswer = {
        ...(await countRows(desk)),
        place: door.kind === 'computer' ? shortPlace(book.folder) : null,
      };
      return c.json(answer);
    }),
  );

  for (const kind of Object.keys(THINGS) as ThingTable[]) {
    const fields = THINGS[kind];
    const newFields = kind === 'plans' ? newPlanFields : fields;
    app.get(
      `/api/record/${kind}`,
      at(async (c, desk) => {
        const { rows, total } = await listThings(desk, kind, queryBy(c, listQuery));
        return c.json({ [kind]: rows, total });
      }),
    );
    app.post(
      `/api/record/${kind}`,
      at(async (c, desk) => c.json(await makeThing(desk, kind, (await bodyBy(c, newFields)) as never), 201)),
    );
    app.patch(
      `/api/record/${kind}/:id`,
      at(async (c, desk) => {
        const sent = await bodyBy(c, z.record(z.string(), z.unknown()));
        // Defaults are for what is made; what is left out of a change stays.
        const changes = parsedBy(fields.partial(), sent) as Record<string, unknown>;
        const given = Object.fromEntries(Object.entries(changes).filter(([key]) => key in sent));
        return c.json(await changeThing(desk, kind, idOf(c), given as never));
      }),
    );
  }

  app.get(
    '/api/record/readings',
    at(async (c, { store }) => {
      const filter = queryBy(c, readingFilter);
      return c.json(await store.read((db) => listReadings(db, filter)));
    }),
  );
  app.post('/api/record/readings', at(postKept));
  app.get(
    '/api/record/readings/:id',
    at(async (c, desk) => c.json(await keptReadingById(desk, idOf(c)))),
  );
  app.post(
    '/api/record/readings/:id/again',
    at(async (c, desk) => {
      const changes = await bodyBy(c, againRequest);
      for (const marks of [changes.marks, ...(changes.alsoMarks ?? [])]) if (marks) parseMarks(marks);
      if (changes.taps) parseTaps(changes.taps);
      if (changes.strip) parseStrip(changes.strip);
      return c.json(await readAgain(desk, idOf(c), changes, c.req.raw.signal), 201);
    }),
  );
  app.get(
    '/api/record/photos/:sha256',
    at(async (c, desk) => {
      const sha = shaOf(c);
      const { format } = await photoRow(desk, sha);
      const bytes = await desk.store.photos.read(sha);
      return c.body(new Uint8Array(bytes), 200, {
        'Content-Type': MEDIA[format] ?? 'application/octet-stream',
        'Cache-Control': 'private, max-age=31536000, immutable',
      });
    }),
  );
  app.get(
    '/api/record/photos/:sha256/preview',
    at(async (c, desk) => {
      const sha = shaOf(c);
      await photoRow(desk, sha);
      const preview = await previews.of(await desk.store.photos.read(sha), c.req.raw.signal);
      return c.json({ preview });
    }),
  );

  app.get(
    '/api/record/controls',
    at(async (c, desk) => c.json(await listControls(desk, queryBy(c, useQuery)))),
  );
  app.post(
    '/api/record/controls',
    at(async (c, desk) => c.json(await keepControl(desk, await bodyBy(c, controlFields)), 201)),
  );
  app.get(
    '/api/record/prints',
    at(async (c, desk) => c.json(await listPrints(desk, queryBy(c, useQuery)))),
  );
  app.post(
    '/api/record/prints',
    at(async (c, desk) => c.json(await keepPrint(desk, await bodyBy(c, printFields)), 201)),
  );
  app.patch(
    '/api/record/prints/:id',
    at(async (c, desk) => c.json(await sayReached(desk, idOf(c), await bodyBy(c, printReached)))),
  );
  app.get(
    '/api/record/notes',
    at(async (c, desk) => c.json({ notes: await listNotes(desk, queryBy(c, noteQuery)) })),
  );
  app.post(
    '/api/record/notes',
    at(async (c, desk) => c.json(await writeNote(desk, await bodyBy(c, noteFields)), 201)),
  );
  app.post(
    '/api/record/put-away',
    at(async (c, desk) => c.json(await setPutAway(desk, await bodyBy(c, rowName), true))),
  );
  app.post(
    '/api/record/bring-back',
    at(async (c, desk) => c.json(await setPutAway(desk, await bodyBy(c, rowName), false))),
  );
  app.post(
    '/api/record/today',
    at(async (c, desk) => c.json(await whatTimeToday(desk, await bodyBy(c, todayQuestion)))),
  );
  app.get(
    '/api/record/feedback',
    at(async (c, desk) => c.json(await feedbackOf(desk, queryBy(c, feedbackQuery)))),
  );
};
