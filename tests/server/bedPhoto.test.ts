import { writeFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { type EvennessAnswer, evennessAnswer } from '../../server/contracts/evenness.ts';
import { paintedBed } from '../analysis/bed/paintedBed.ts';
import { formOf, serverUnderTest } from '../helpers/serverUnderTest.ts';
import { answerOf, knownReading, longestLine, scratch, textOf } from './commands/readingFile.ts';

const server = serverUnderTest();
const file = scratch();
const curve = knownReading();
const bed = { card: 'white-grey-black', rows: 4, columns: 5 };
/** A lamp 20 % weaker at the top of the bed. */
const dose = (_: number, down: number) => 0.9 + 0.2 * down;

let photo: Awaited<ReturnType<typeof paintedBed>>;
let turned: Awaited<ReturnType<typeof paintedBed>>;
let words: string[];
let answer: EvennessAnswer;

const fields = () => ({
  photo: photo.bytes,
  bed: JSON.stringify(bed),
  marks: JSON.stringify(photo.marks),
  curve: JSON.stringify(curve),
});

beforeAll(async () => {
  photo = await paintedBed({ dose });
  turned = await paintedBed({ dose, turned: true, seed: 2 });
  const path = file('sheet.png', '');
  writeFileSync(path, photo.bytes);
  words = [
    ...['evenness', '--photo', path, '--bed', file('bed.json', bed)],
    ...['--marks', file('marks.json', photo.marks), '--curve', file('indigo.json', curve)],
  ];
  const response = await server.post('/api/evenness', formOf(fields()));
  expect(response.status).toBe(200);
  answer = evennessAnswer.parse(await response.json());
}, 60_000);

describe('POST /api/evenness with the photo of a sheet', () => {
  it('finds the lamp 18 % low at the top: read between 14 and 22 %', () => {
    if (answer.evenness.kind !== 'map') throw new Error(answer.evenness.sentence);
    expect(answer.evenness.pattern).toMatchObject({ code: 'one-side-low', where: 'top side' });
    const columns = answer.evenness.relativeDose;
    // Middles of the outer rows: doses 0.925 and 1.075 of the planned one.
    const ratio = (columns[0][2] ?? 0) / (columns[3][2] ?? 0);
    expect(ratio).toBeGreaterThan(0.84);
    expect(ratio).toBeLessThan(0.88);
  });

  it('answers the cells with L* and uncertainty, the light and the tone of the photo', () => {
    expect(answer.sheet).toMatchObject({ rows: 4, columns: 5, repeatability: null });
    expect(answer.sheet?.cells.flat().every(({ L, uL }) => L > 40 && L < 75 && uL > 0)).toBe(true);
    expect(answer.sheet?.illumination.method).toBe('surround');
  });

  it('answers what the command line answers', async () => {
    expect(await answerOf(...words)).toEqual(answer);
  });

  it('takes a second photo, turned end for end, with its marks', async () => {
    const response = await server.post(
      '/api/evenness',
      formOf({ ...fields(), also: turned.bytes, alsoMarks: JSON.stringify(turned.marks) }),
    );
    const both = evennessAnswer.parse(await response.json());
    expect(both.sheet?.repeatability?.photos).toBe(2);
    if (both.evenness.kind !== 'map') throw new Error(both.evenness.sentence);
    expect(both.evenness.pattern).toMatchObject({ code: 'one-side-low', where: 'top side' });
  });

  it.each([
    ['no photo', { photo: '' }, 'request-invalid', /photo/],
    ['a second photo without marks', { also: new Uint8Array([1]) }, 'request-invalid', /alsoMarks/],
    ['no bed', { bed: '' }, 'request-invalid', /bed/],
    ['13 rows', { bed: JSON.stringify({ ...bed, rows: 13 }) }, 'request-invalid', /rows/],
    [
      'an unknown card',
      { bed: '{"card": "a postcard"}' },
      'request-invalid',
      /bed.card: needs the name of a card/,
    ],
    ['no sheet marked', { marks: '{"card": []}' }, 'request-invalid', /sheet/],
    ['no curve', { curve: '' }, 'request-invalid', /curve/],
    ['a curve that is none', { curve: '{}' }, 'request-invalid', /"curve" is not a reading/],
  ] as const)('refuses %s with 400', async (_, wrong, code, why) => {
    const response = await server.post('/api/evenness', formOf({ ...fields(), ...wrong }));
    const { error } = errorAnswer.parse(await response.json());
    expect({ status: response.status, code: error.code }).toEqual({ status: 400, code });
    expect(error.message).toMatch(why);
  });
});

describe('tonestep evenness --photo', () => {
  it('prints the map, the pattern and what the photo leaves open within 80 columns', async () => {
    const text = await textOf(...words);
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    expect(text).toMatch(/The top side\s+gets 1[2-5] % less/);
    expect(text).toMatch(/leaves \d+ %\s+from\s+left/);
    expect(text).toContain('Light of the photo:');
  });

  it.each([
    [['evenness', '--photo', 'sheet.png', '--curve', 'a.json'], /--photo needs --bed/],
    [['evenness', '--photo', 'sheet.png', '--bed', 'b.json', '--curve', 'a.json'], /needs --marks/],
    [['evenness', 'cells.json', '--bed', 'b.json', '--curve', 'a.json'], /need --photo/],
    [['evenness', '--curve', 'a.json'], /--photo, or name one file/],
    [['evenness', 'cells.json', '--photo', 's.png', '--curve', 'a.json'], /one word too many/],
  ])('refuses %j', async (line, why) => {
    await expect(textOf(...line)).rejects.toThrow(why);
  });
});
