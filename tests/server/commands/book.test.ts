import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';

const root = join(import.meta.dirname, '../../..');
const photo = join(root, 'docs/examples/hemp-banner-rust.jpg');
let folder = '';
const before = process.env.TONESTEP_DATA;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-cli-'));
  process.env.TONESTEP_DATA = join(folder, 'data');
});
afterAll(() => {
  if (before === undefined) delete process.env.TONESTEP_DATA;
  else process.env.TONESTEP_DATA = before;
  rmSync(folder, { recursive: true, force: true });
});

const run = (...words: string[]) => runCommandLine(words);
const json = async (...words: string[]) => JSON.parse((await run(...words, '--json')).stdout);
const refused = async (...words: string[]) => {
  const { stderr, exit, stdout } = await run(...words);
  expect({ exit, stdout }).toEqual({ exit: 2, stdout: '' });
  return stderr;
};

describe('the book on the command line', () => {
  it('says what to do first in an empty book', async () => {
    expect(await refused('today')).toMatch(/Keep a strip first: tonestep keep PHOTO/);
    expect(await refused('book', 'latest')).toMatch(/tonestep keep/);
    expect((await run('book')).stdout).toBe('No reading in the book that fits.\n');
    expect((await run('made')).stdout).toMatch(/No print yet/);
  });

  it('keeps a photo, finds it by each filter, and shows it by the first 8 characters of its id', async () => {
    const kept = await json(
      'keep',
      photo,
      '--exposed',
      '2026-06-01',
      '--remark',
      'first',
      '--lamp-hours',
      '120',
    );
    expect(kept.line).toMatchObject({ lampHours: 120, purpose: 'calibration', batch: null });
    const total = async (...words: string[]) => (await json('book', ...words)).total;
    expect(await total('--dye', 'LIGHT-SET rust')).toBe(1);
    expect(await total('--text', 'first')).toBe(1);
    expect(await total('--from', '2026-06-01', '--to', '2026-06-02')).toBe(1);
    expect(await total('--to', '2026-06-01')).toBe(0);
    expect(await total('--text', 'second')).toBe(0);
    expect((await json('book', kept.line.id.slice(0, 8))).line.id).toBe(kept.line.id);
    const { stdout } = await run('book');
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  it('reads it again as a new reading, which the list then shows in its place', async () => {
    const old = (await json('book', 'latest')).line.id;
    const again = (await json('book', old, '--again')).line;
    expect(again.supersedesId).toBe(old);
    const list = await json('book');
    expect(list.readings.map((r: { id: string }) => r.id)).toEqual([again.id]);
    expect((await json('book', '--all')).total).toBe(2);
    expect((await run('book', '--all')).stdout).toMatch(/read again/);
    expect((await run('book', old)).stdout).toMatch(/stands\s+in\s+for\s+it/);
  });

  it('answers a time today as JSON and refuses a batch and a dye that the book does not have', async () => {
    expect(await json('today', '--target', 'depth=60%')).toMatchObject({
      kind: 'time',
      roundedSeconds: expect.any(Number),
    });
    expect(await refused('today', '--batch', 'July')).toMatch(/--mixed/);
    expect(await refused('today', '--dye', 'woad')).toMatch(/The book has "light-set rust"/);
    expect(await refused('today', '--target', 'very deep')).toMatch(/L=45/);
  });

  it.each([
    [['keep'], /Name one photo/],
    [['keep', photo, '--mixed', '2026-05-01'], /--batch/],
    [['keep', photo, '--exposed', 'yesterday'], /2026-05-30/],
    [['keep', photo, '--exposed', '2099-01-01'], /still to come/],
    [['keep', photo, '--against', 'abcd'], /--control/],
    [['keep', join(tmpdir(), 'no-such.jpg')], /no such file/],
    [['made', '--reached', '45'], /--time/],
    [['made', '--time', '1:30', '--reached', 'deep'], /45\.2/],
    [['made', '--judged', 'paler'], /--time/],
    [['made', '--time', '1:30', '--judged', 'pale'], /paler, right, deeper/],
    [['book', '--put-away'], /id of a reading/],
    [['book', 'latest', '--put-away', '--again'], /does not go with/],
    [['book', 'ffffffff'], /no reading whose id/],
    [['book', 'xyz!'], /no id/],
    [['backup'], /Name the folder/],
    [['restore', join(tmpdir(), 'no-such-backup')], /tonestep backup/],
  ])('%j is refused with what to do', async (words, message) => {
    expect(await refused(...words)).toMatch(message);
  });

  it('says later how a print came out, by the first 8 characters of its id in the list, and takes it back', async () => {
    const wet = await json('made', '--time', '1:30', '--name', 'banner 1');
    expect(wet).toMatchObject({ reachedL: null, judged: null, predictedL: expect.any(Number) });
    const start = wet.id.slice(0, 8);
    const list = (await run('made')).stdout;
    expect(list).toMatch(new RegExp(`^${start} .* – .*banner 1$`, 'm'));
    expect(list).toMatch(/Once it is dry: tonestep made ID --reached/);
    expect(Math.max(...list.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);

    const dry = await json('made', start, '--reached', `${wet.predictedL.toFixed(2)}±0.6`);
    expect(dry).toMatchObject({ id: wet.id, reachedUL: 0.6, judged: null });
    // As light as was promised, so nothing is missed.
    expect(Math.abs(dry.missedStops)).toBeLessThan(0.02);
    expect((await run('made')).stdout).not.toMatch(/Once it is dry/);
    expect((await run('made', 'latest', '--reached', '99')).stdout).toMatch(/too pale\s+to\s+say/);
    expect((await run('made', 'latest', '--reached', '1')).stdout).toMatch(/too deep\s+to\s+say/);
    expect(await json('made', start, '--judged', 'paler')).toMatchObject({ reachedL: null, judged: 'paler' });
    expect((await run('made', start)).stdout).toMatch(/By eye: paler than promised\./);
    expect(await json('made', start, '--take-back')).toMatchObject({ reachedL: null, judged: null });
    const all = await json('made');
    expect([all.total, all.newest.map(({ id }: { id: string }) => id), all.prints]).toEqual([
      1,
      [wet.id],
      [],
    ]);
  });

  it.each([
    [['made', 'latest', '--name', 'banner 2'], /--name belongs to a new print/],
    [['made', 'latest', '--take-back', '--judged', 'right'], /--take-back does not go with/],
    [['made', '--take-back'], /needs the id of a print/],
    [['made', 'ffffffff', '--judged', 'right'], /no print whose id/],
    [['made', 'banner'], /no id of a print/],
    [['made', 'abcd', 'ef01'], /one print at a time/],
  ])('%j is refused with what is meant', async (words, message) => {
    expect(await refused(...words)).toMatch(message);
  });

  it('puts a reading away, and today then goes by the one before; brings it back', async () => {
    const { line } = await json('book', 'latest');
    await run('book', line.id, '--put-away');
    expect((await json('today')).basis.readingId).toBe(line.supersedesId);
    await run('book', line.id, '--bring-back');
    expect((await json('today')).basis.readingId).toBe(line.id);
  });

  it('backs up, and restores over a book that no program has open, which it sets aside', async () => {
    const backup = join(folder, 'backup');
    expect(await json('backup', backup)).toMatchObject({ readings: 2, photos: 1, lost: [] });
    expect(await refused('restore', backup)).toMatch(/--replace/);
    const own = join(folder, 'own');
    cpSync(backup, own, { recursive: true });
    // The connections of this process stay open until they are collected: a process of its own has none.
    const child = spawnSync(
      process.execPath,
      ['--import', 'tsx', join(root, 'server/cli.ts'), 'restore', backup, '--replace', '--json'],
      { cwd: root, encoding: 'utf8', env: { ...process.env, TONESTEP_DATA: own } },
    );
    expect(child.stderr).toBe('');
    const restored = JSON.parse(child.stdout);
    expect(restored).toMatchObject({ readings: 2, photos: 1, lost: [] });
    expect(existsSync(join(own, restored.setAside, 'book.sqlite'))).toBe(true);
    expect(readdirSync(own).filter((name) => /arriving/.test(name))).toEqual([]);
    process.env.TONESTEP_DATA = own;
    expect((await json('book', '--all')).total).toBe(2);
    expect(await json('book', '--check')).toMatchObject({ sound: true, lost: [] });
    process.env.TONESTEP_DATA = join(folder, 'data');
  }, 120_000);

  it('keeps two photos of one strip and a strip fitted together with it, and reads both again alike', async () => {
    process.env.TONESTEP_DATA = join(folder, 'several');
    const other = join(folder, 'again.jpg');
    // The same picture with a comment (JPEG, ITU-T T.81, B.2.4.5): other bytes, so another photo.
    const bytes = readFileSync(photo);
    const comment = Buffer.from([0xff, 0xfe, 0, 7, ...Buffer.from('again')]);
    writeFileSync(other, Buffer.concat([bytes.subarray(0, 2), comment, bytes.subarray(2)]));
    const strip = photo.replace(/jpg$/, 'strip.json');
    const { line, settings, reading } = await json('keep', photo, '--strip', strip, '--also', other);
    expect(reading.repeatability.photos).toBe(2);
    expect(settings.also).toHaveLength(1);
    expect((await run('book', line.id)).stdout).toMatch(/Read from 2 photos/);
    const again = await json('book', line.id, '--again');
    expect(again.reading).toEqual(reading);
    const fitted = await json('keep', photo, '--with', line.id.slice(0, 8));
    expect(fitted.reading.curve.curve.points).toHaveLength(2 * reading.curve.curve.points.length);
    expect((await run('book', fitted.line.id)).stdout).toMatch(/Fitted together with 1 earlier strip/);
    expect(await json('book', '--check')).toMatchObject({ sound: true, photos: 2, lost: [] });
    expect(await refused('keep', photo, '--also', other, '--also-marks', 'a', '--also-marks', 'b')).toMatch(
      /--also-marks needs one file/,
    );
    process.env.TONESTEP_DATA = join(folder, 'data');
  }, 60_000);

  it('says that a book is no book, with exit 2 and no path of this machine', async () => {
    const place = join(folder, 'words');
    process.env.TONESTEP_DATA = place;
    await run('book');
    writeFileSync(join(place, 'book.sqlite'), 'words, not a database. '.repeat(500));
    for (const name of ['book.sqlite-wal', 'book.sqlite-shm']) rmSync(join(place, name), { force: true });
    const said = await refused('book');
    expect(said).toMatch(/restore/);
    expect(said).not.toContain(place);
    process.env.TONESTEP_DATA = join(folder, 'data');
  });
});
