import { randomUUID } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { Readable, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type { ReadableStream as WebStream } from 'node:stream/web';
import type { Context, Handler, Hono } from 'hono';
import type { Logger } from 'pino';
import { z } from 'zod';
import { phrase } from '../../analysis/phrases.ts';
import type { Analyst } from '../analyst.ts';
import type { ArchiveAnswer } from '../contracts/archive.ts';
import { cgatsQuery, paperSize, reportQuery } from '../contracts/exchange.ts';
import { type PaperLanguage, paperLanguage } from '../contracts/language.ts';
import type { Reading } from '../contracts/reading.ts';
import { id } from '../contracts/recordText.ts';
import { readArchive } from '../exchange/archiveRead.ts';
import { hugeArchive } from '../exchange/archiveRefusals.ts';
import { writeArchive } from '../exchange/archiveWrite.ts';
import { cgatsText } from '../exchange/cgats.ts';
import { curveCsv } from '../exchange/curveCsv.ts';
import { fileNameOf, keptRemarks } from '../exchange/reportOfKept.ts';
import { stepsCsv } from '../exchange/stepsCsv.ts';
import { parseWholeReading } from '../exchange/wholeReading.ts';
import { readForm } from '../formFields.ts';
import { paperWords } from '../papers/paperWords.ts';
import type { PaperSize } from '../papers/reportPdf.ts';
import { parsedBy, queryBy } from '../parsedBy.ts';
import type { Book } from '../record/book.ts';
import type { Desk } from '../record/bookDesk.ts';
import { keptReadingById } from '../record/keepReading.ts';
import { Refusal } from '../refusal.ts';
import { spokenLanguage } from '../spokenLanguage.ts';
import { asRefusal } from '../store/trouble.ts';

export interface ExchangeParts {
  readonly book: Book;
  readonly analyst: Pick<Analyst, 'paper'>;
  readonly version: string;
  readonly log: Logger;
}

/** Most bytes of an archive that comes in over HTTP; the command line takes larger ones. */
const MOST_ARCHIVE_BYTES = 20_000_000_000;

const idOf = (c: Context): string => parsedBy(z.object({ id }), { id: c.req.param('id') }).id;

const attachment = (name: string): string => `attachment; filename="${name}"`;

const keptOf = (c: Context, desk: Desk) => keptReadingById(desk, idOf(c));

const pdfAnswer = (c: Context, pdf: Uint8Array, reading: Reading, language: PaperLanguage): Response =>
  c.body(new Uint8Array(pdf), 200, {
    'Content-Type': 'application/pdf',
    'Content-Language': language,
    Vary: 'Accept-Language',
    'Content-Disposition': attachment(
      fileNameOf([reading.strip.dye, reading.strip.cloth, paperWords(language).report.fileName], 'pdf'),
    ),
  });

const photoOf = async (desk: Desk, sha256: string): Promise<Uint8Array | null> => {
  try {
    return await desk.store.photos.read(sha256);
  } catch (error) {
    if (error instanceof Refusal && error.code === 'photo-lost') return null;
    throw error;
  }
};

/** POST /api/record/archive: an archive as the body. Streamed to the book's own disk, then looked through. */
export const postArchive =
  (book: Book): Handler =>
  async (c) => {
    if (!/^application\/(?:zip|octet-stream)\b/.test(c.req.header('content-type') ?? ''))
      throw new Refusal('request-invalid', 'Send the archive itself, as application/zip.');
    const { body } = c.req.raw;
    if (!body) throw new Refusal('request-invalid', 'The request holds no archive.');
    const { store } = await book.desk();
    // The photo folder clears away what a process that ended left here.
    const path = join(store.folder, 'photos', 'incoming', randomUUID());
    let bytes = 0;
    const counted = new Transform({
      transform(chunk: Uint8Array, _, done) {
        bytes += chunk.byteLength;
        if (bytes > MOST_ARCHIVE_BYTES)
          done(hugeArchive('it has more than 20 GB; use "tonestep import" on the computer'));
        else done(null, chunk);
      },
    });
    try {
      try {
        await pipeline(
          Readable.fromWeb(body as WebStream),
          counted,
          createWriteStream(path, { flags: 'wx' }),
        );
      } catch (error) {
        if (c.req.raw.signal.aborted)
          throw new Refusal('request-invalid', 'The archive did not arrive whole. Send it once more.');
        throw asRefusal(error);
      }
      const answer: ArchiveAnswer = await readArchive(store, path);
      return c.json(answer);
    } finally {
      await rm(path, { force: true });
    }
  };

/** Papers, tables and the archive of the book. */
export const exchangeRoutes = (app: Hono, { book, analyst, version, log }: ExchangeParts): void => {
  const program = `Tonestep ${version}`;
  const at =
    (handle: (c: Context, desk: Desk) => Promise<Response>): Handler =>
    async (c) =>
      handle(c, await book.desk());

  app.get(
    '/api/record/readings/:id/report',
    at(async (c, desk) => {
      const { paper, language: named } = queryBy(c, reportQuery);
      const language = spokenLanguage(c, named);
      const kept = await keptOf(c, desk);
      const photo = await photoOf(desk, kept.line.photo);
      const report = {
        reading: kept.reading,
        paper,
        language,
        made: desk.now().toISOString(),
        program,
        remarks: keptRemarks(kept, paperWords(language)),
      };
      const pdf = await analyst.paper({ kind: 'paper', report, photo }, c.req.raw.signal);
      return pdfAnswer(c, pdf, kept.reading, language);
    }),
  );
  const csv = (c: Context, text: string, { strip }: Reading, what: string): Response =>
    c.body(text, 200, {
      'Content-Type': 'text/csv; charset=utf-8',
      'Content-Disposition': attachment(fileNameOf([strip.dye, strip.cloth, what], 'csv')),
    });
  app.get(
    '/api/record/readings/:id/steps',
    at(async (c, desk) => {
      const { reading } = await keptOf(c, desk);
      return csv(c, stepsCsv(reading), reading, 'steps');
    }),
  );
  app.get(
    '/api/record/readings/:id/curve',
    at(async (c, desk) => {
      const { reading } = await keptOf(c, desk);
      const text = curveCsv(reading);
      if (text === null)
        throw new Refusal('no-calibration', 'That reading has no curve to write down.', {
          phrase: phrase('no-curve-to-write', {}),
        });
      return csv(c, text, reading, 'curve');
    }),
  );
  app.get(
    '/api/record/readings/:id/cgats',
    at(async (c, desk) => {
      const { white } = queryBy(c, cgatsQuery);
      const { reading, line } = await keptOf(c, desk);
      const text = cgatsText(reading, { created: line.readAt.slice(0, 10), originator: program, white });
      return c.body(text, 200, {
        'Content-Type': 'text/plain; charset=utf-8',
        'Content-Disposition': attachment(fileNameOf([reading.strip.dye, reading.strip.cloth], 'cgats.txt')),
      });
    }),
  );

  app.post('/api/reports', async (c) => {
    const form = await readForm(c);
    const given = form.json('reading');
    if (given === undefined) throw new Refusal('request-invalid', 'The form has no "reading".');
    const reading = (() => {
      try {
        return parseWholeReading('The field "reading"', given);
      } catch (error) {
        throw new Refusal('request-invalid', (error as Error).message);
      }
    })();
    const paper: PaperSize = parsedBy(paperSize, form.json('paper') ?? 'a4');
    const photo = (await form.otherPhoto('photo')) ?? null;
    const wished = form.json('language');
    const language = spokenLanguage(c, wished === undefined ? undefined : parsedBy(paperLanguage, wished));
    const report = { reading, paper, language, made: new Date().toISOString(), program };
    const pdf = await analyst.paper({ kind: 'paper', report, photo }, c.req.raw.signal);
    return pdfAnswer(c, pdf, reading, language);
  });

  app.get(
    '/api/record/archive',
    at(async (c, { store }) => {
      const { bytes, made } = writeArchive(store);
      // An answer that has begun can only break off; whoever brings it in is told that it is damaged.
      made.catch((error: unknown) => {
        if (!c.req.raw.signal.aborted) log.error({ err: error }, 'an archive broke off');
      });
      return c.body(Readable.toWeb(bytes) as ReadableStream, 200, {
        'Content-Type': 'application/zip',
        'Content-Disposition': attachment('tonestep-book.zip'),
      });
    }),
  );
};
