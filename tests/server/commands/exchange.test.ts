import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { readPdf } from '../papers/readPdf.ts';
import { answerOf, textOf } from './readingFile.ts';

const DEMO = new URL('../../../fixtures/demo/', import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), 'tonestep-exchange-'));
const path = (name: string) => join(folder, name);
const before = process.env.TONESTEP_DATA;
const useBook = (name: string) => {
  process.env.TONESTEP_DATA = path(name);
};

beforeAll(async () => {
  useBook('shop');
  await answerOf(
    'keep',
    `${DEMO}hemp-banner-blue.jpg`,
    '--batch',
    'batch of May',
    '--mixed',
    '2026-05-01',
    '--exposed',
    '2026-05-02',
    '--confirm',
    '--remark',
    'banner of the east pier',
  );
  writeFileSync(
    path('blue.json'),
    JSON.stringify(
      await answerOf(
        'read',
        `${DEMO}hemp-banner-blue.jpg`,
        '--strip',
        `${DEMO}hemp-banner-blue.strip.json`,
        '--marks',
        `${DEMO}hemp-banner-blue.marks.json`,
      ),
    ),
  );
});
afterAll(() => {
  if (before === undefined) delete process.env.TONESTEP_DATA;
  else process.env.TONESTEP_DATA = before;
  rmSync(folder, { recursive: true, force: true });
});

const refusalOf = async (...words: readonly string[]) => {
  const { exit, stderr, stdout } = await runCommandLine([...words, '--json']);
  expect(exit).toBe(2);
  expect(stderr.trim().split('\n').length).toBe(1);
  return JSON.parse(stdout).error as { code: string; message: string };
};

describe('tonestep report', () => {
  test('prints a reading of a file, with the photo that is named', async () => {
    const answer = await answerOf(
      'report',
      path('blue.json'),
      '--photo',
      `${DEMO}hemp-banner-blue.jpg`,
      '--paper',
      'letter',
      '--out',
      path('blue.pdf'),
    );
    expect(answer).toMatchObject({ paper: 'letter', photo: true });
    const pdf = await readPdf(readFileSync(path('blue.pdf')));
    expect(pdf.pages[0]).toMatchObject({ width: 612, height: 792, pictures: 1 });
    expect(pdf.words).toContain('light-set blue');
  });

  test('says that a photo is missing', async () => {
    expect(await textOf('report', path('blue.json'), '--out', path('bare.pdf'))).toContain('add --photo');
  });

  test("prints a reading of the book with the book's photo, batch and remark", async () => {
    await answerOf('report', 'latest', '--out', path('latest.pdf'));
    const pdf = await readPdf(readFileSync(path('latest.pdf')));
    expect(pdf.pages[0].pictures).toBe(1);
    for (const words of ['Exposed 2026-05-02', 'batch of May', 'banner of the east pier'])
      expect(pdf.words).toContain(words);
  });

  test.each([
    ['no reading', [], 'usage'],
    ['no place for the PDF', ['latest'], 'usage'],
    ['a paper that is none', ['latest', '--paper', 'a3', '--out', 'x.pdf'], 'usage'],
    ['a reading that is not there', ['0123abcd', '--out', 'x.pdf'], 'usage'],
    ['a file that is not there', ['nowhere.json', '--out', 'x.pdf'], 'file-unreadable'],
    ['a file that is no reading', [join(DEMO, 'manifest.json'), '--out', 'x.pdf'], 'file-invalid'],
    ['a folder that is not there', ['latest', '--out', '/no/such/folder/x.pdf'], 'file-unwritable'],
  ])('refuses %s', async (_, words, code) => {
    expect((await refusalOf('report', ...words)).code).toBe(code);
  });
});

describe('tonestep table', () => {
  test('prints the steps as CSV that csv-parse reads', async () => {
    const rows = parse(await textOf('table', path('blue.json')), { columns: true }) as { step: string }[];
    expect(rows.map((row) => row.step)).toEqual(['0', '1', '2', '3', '4', '5', '6']);
  });

  test('writes the curve into a file, marked as UTF-8', async () => {
    await answerOf('table', 'latest', '--as', 'curve', '--out', path('curve.csv'));
    const bytes = readFileSync(path('curve.csv'));
    expect([...bytes.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(parse(bytes, { bom: true, columns: true }).length).toBeGreaterThan(50);
  });

  test('writes CGATS.17 for either white', async () => {
    expect(await textOf('table', path('blue.json'), '--as', 'cgats', '--white', 'D50')).toContain(
      'WEIGHTING_FUNCTION "ILLUMINANT, D50"',
    );
    expect((await refusalOf('table', path('blue.json'), '--white', 'D50')).code).toBe('usage');
  });
});

describe('tonestep export and import', () => {
  test('carry the book to an empty folder and back: the second archive is the first, byte for byte', async () => {
    useBook('shop');
    expect(await answerOf('export', '--out', path('shop.zip'))).toMatchObject({
      readings: 1,
      photos: 1,
      photosLost: 0,
    });
    useBook('empty');
    const answer = await answerOf('import', path('shop.zip'));
    expect(answer.added).toMatchObject({ readings: 1, photos: 1, batches: 1 });
    await answerOf('export', path('back.zip'));
    expect(readFileSync(path('back.zip')).equals(readFileSync(path('shop.zip')))).toBe(true);
    expect((await answerOf('import', path('shop.zip'))).added).toEqual({});
    useBook('shop');
  });

  test('leave no half file behind where writing fails', async () => {
    expect((await refusalOf('export', path('no/such.zip'))).code).toBe('file-unwritable');
    expect(readdirSync(folder).filter((name) => name.includes('part'))).toEqual([]);
  });

  test.each([
    ['no archive', [], 'usage'],
    ['one that is not there', ['nowhere.zip'], 'file-unreadable'],
    ['a photo', [`${DEMO}hemp-banner-blue.jpg`], 'archive-invalid'],
  ])('refuse %s', async (_, words, code) => {
    expect((await refusalOf('import', ...words)).code).toBe(code);
  });
});
