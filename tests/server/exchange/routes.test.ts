import { existsSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { archiveAnswer } from '../../../server/contracts/archive.ts';
import { errorAnswer } from '../../../server/contracts/errors.ts';
import { type KeptReading, keptReading } from '../../../server/contracts/recordReadings.ts';
import { fileNameOf } from '../../../server/exchange/reportOfKept.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../../helpers/serverUnderTest.ts';
import { temporaryBook } from '../../helpers/temporaryBook.ts';
import { readPdf } from '../papers/readPdf.ts';

const book = temporaryBook(directAnalyst);
const server = serverUnderTest(directAnalyst, book);
const hemp = demoFiles('hemp-banner-blue');
const bytesOf = async (response: Response) => new Uint8Array(await response.arrayBuffer());
const errorOf = async (response: Response) => errorAnswer.parse(await response.json()).error;

let kept: KeptReading;
beforeAll(async () => {
  const context = JSON.stringify({ confirmed: true, remark: 'east pier', exposedAt: '2026-05-02T09:00:00Z' });
  const response = await server.post('/api/record/readings', formOf({ ...hemp, context }));
  expect(response.status).toBe(201);
  kept = keptReading.parse(await response.json());
});
const at = (what: string) => `/api/record/readings/${kept.line.id}/${what}`;

describe('a kept reading goes out', () => {
  it.each([
    ['a4', 595.28],
    ['letter', 612],
  ])(
    'as a PDF on %s, with its photo, day and remark, under a name of plain letters',
    async (paper, width) => {
      const response = await server.get(at(`report?paper=${paper}`));
      expect(response.headers.get('content-type')).toBe('application/pdf');
      expect(response.headers.get('content-disposition')).toBe(
        'attachment; filename="light-set-blue-hemp-for-the-harbour-banners-calibration.pdf"',
      );
      const pdf = await readPdf(await bytesOf(response));
      expect(pdf.pages[0].width).toBeCloseTo(width, 1);
      expect(pdf.pages[0].pictures).toBe(1);
      for (const words of ['Exposed 2026-05-02', 'east pier', kept.line.id])
        expect(pdf.words).toContain(words);
    },
  );

  it('as a PDF in German, remarks and file name too', async () => {
    const response = await server.get(at('report?language=de'));
    expect(response.headers.get('content-language')).toBe('de');
    expect(response.headers.get('content-disposition')).toContain('-eichung.pdf"');
    const { words } = await readPdf(await bytesOf(response));
    for (const text of ['Belichtet 02.05.2026', 'Lesung', 'east pier', 'Urteil'])
      expect(words).toContain(text);
  });

  it('as CSV of steps and curve, and as CGATS.17', async () => {
    const steps = await server.get(at('steps'));
    expect(steps.headers.get('content-type')).toBe('text/csv; charset=utf-8');
    expect(parse(await steps.text(), { bom: true, columns: true }).length).toBe(kept.reading.steps.length);
    const curve = await server.get(at('curve'));
    expect(parse(await curve.text(), { bom: true, columns: true }).length).toBeGreaterThan(50);
    const cgats = await server.get(at('cgats?white=D50'));
    expect(await cgats.text()).toMatch(/^CGATS\.17\nORIGINATOR "Tonestep /);
  });

  it.each(['report', 'steps', 'curve', 'cgats'])('not where there is none: %s', async (what) => {
    const nothing = await server.get(`/api/record/readings/${crypto.randomUUID()}/${what}`);
    expect([nothing.status, (await errorOf(nothing)).code]).toEqual([404, 'not-found']);
    const odd = await server.get(`/api/record/readings/..%2F..%2Fx/${what}`);
    expect((await errorOf(odd)).code).toBe('request-invalid');
  });

  it('on paper where the book has lost the photo, without it', async () => {
    const { store } = await book.desk();
    const path = store.photos.pathOf(kept.line.photo);
    rmSync(path);
    const pdf = await readPdf(await bytesOf(await server.get(at('report'))));
    expect(pdf.pages[0].pictures).toBe(0);
    await store.photos.keep(hemp.photo);
    expect(existsSync(path)).toBe(true);
  });
});

describe('POST /api/reports', () => {
  it('puts a reading that is not kept on paper, with its photo or without', async () => {
    const reading = JSON.stringify(kept.reading);
    const withPhoto = await server.post(
      '/api/reports',
      formOf({ reading, photo: hemp.photo, paper: '"letter"' }),
    );
    const pdf = await readPdf(await bytesOf(withPhoto));
    expect(pdf.pages[0]).toMatchObject({ width: 612, pictures: 1 });
    const bare = await readPdf(await bytesOf(await server.post('/api/reports', formOf({ reading }))));
    expect(bare.pages[0].pictures).toBe(0);
  });

  it.each([
    ['no reading', {}],
    ['a reading that is none', { reading: '{"steps":[]}' }],
    ['text that is no JSON', { reading: '{' }],
  ])('refuses %s', async (_, fields) => {
    const response = await server.post('/api/reports', formOf({ paper: '"a4"', ...fields }));
    expect([response.status, (await errorOf(response)).code]).toEqual([400, 'request-invalid']);
  });

  it('refuses a paper that is none, and a photo that is none', async () => {
    const reading = JSON.stringify(kept.reading);
    const paper = await server.post('/api/reports', formOf({ reading, paper: '"a3"' }));
    expect((await errorOf(paper)).code).toBe('request-invalid');
    const photo = await server.post(
      '/api/reports',
      formOf({ reading, photo: new TextEncoder().encode('no') }),
    );
    expect((await errorOf(photo)).code).toBe('photo-format-unsupported');
  });
});

describe('the archive over HTTP', () => {
  const zip = { 'content-type': 'application/zip' };

  it('goes out of one book and into another, where it gives the same archive', async () => {
    const out = await server.get('/api/record/archive');
    expect(out.headers.get('content-disposition')).toBe('attachment; filename="tonestep-book.zip"');
    const archive = await bytesOf(out);
    const other = serverUnderTest();
    const response = await other.post('/api/record/archive', archive, zip);
    expect(response.status).toBe(200);
    const answer = archiveAnswer.parse(await response.json());
    expect(answer.added).toMatchObject({ readings: 1, photos: 1 });
    expect(await bytesOf(await other.get('/api/record/archive'))).toEqual(archive);
    const again = archiveAnswer.parse(await (await other.post('/api/record/archive', archive, zip)).json());
    expect(again.added).toEqual({});
  });

  it('comes in as a stream larger than any photo may be: 70 MB, refused only for what it is', async () => {
    const zeros = new ReadableStream({
      start(controller) {
        for (let i = 0; i < 70; i++) controller.enqueue(new Uint8Array(1_000_000));
        controller.close();
      },
    });
    const response = await server.post('/api/record/archive', zeros, zip);
    expect([response.status, (await errorOf(response)).code]).toEqual([422, 'archive-invalid']);
  });

  it('leaves nothing behind of what was sent', async () => {
    const { store } = await book.desk();
    expect(readdirSync(join(store.folder, 'photos', 'incoming'))).toEqual([]);
  });

  it.each([
    ['a form', 'multipart/form-data; boundary=x', 400, 'request-invalid'],
    ['JSON', 'application/json', 400, 'request-invalid'],
  ])('is refused as %s', async (_, type, status, code) => {
    const response = await server.post('/api/record/archive', 'x', { 'content-type': type });
    expect([response.status, (await errorOf(response)).code]).toEqual([status, code]);
  });

  it('is refused from another origin', async () => {
    const response = await server.post('/api/record/archive', 'x', {
      'content-type': 'text/plain',
      origin: 'http://elsewhere.example',
    });
    expect(response.status).toBe(403);
  });

  it('breaks off as damage where sending breaks off', async () => {
    const whole = await bytesOf(await server.get('/api/record/archive'));
    const response = await server.post('/api/record/archive', whole.slice(0, 1000), zip);
    expect((await errorOf(response)).code).toBe('archive-damaged');
  });

  it('is logged as no fault, whatever was refused', () => {
    expect(server.logged).toEqual([]);
  });
});

describe('names of files', () => {
  it.each([
    [['light-set blue', 'hemp'], 'light-set-blue-hemp.pdf'],
    [['Añil "tres"\n', ''], 'anil-tres.pdf'],
    [['../../etc', 'passwd'], 'etc-passwd.pdf'],
    [['藍'], 'reading.pdf'],
    [['x'.repeat(200)], `${'x'.repeat(60)}.pdf`],
  ])('are plain: %j', (names, file) => {
    expect(fileNameOf(names, 'pdf')).toBe(file);
  });
});
