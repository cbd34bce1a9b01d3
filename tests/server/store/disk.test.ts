import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { keepContext } from '../../../server/contracts/recordReadings.ts';
import type { Desk } from '../../../server/record/bookDesk.ts';
import { keepReading } from '../../../server/record/keepReading.ts';
import { countRows } from '../../../server/record/rows.ts';
import { backupStore, restoreStore } from '../../../server/store/backup.ts';
import { checkStore } from '../../../server/store/checkStore.ts';
import { BOOK_FILE, openStore, type Store } from '../../../server/store/openStore.ts';
import { troubleOf } from '../../../server/store/trouble.ts';
import { demoFiles, directAnalyst } from '../../helpers/serverUnderTest.ts';
import { type SmallDisk, smallDisk } from '../../helpers/smallDisk.ts';

const hemp = demoFiles('hemp-banner-blue');
const marks = parseMarks(JSON.parse(hemp.marks));
const strip = JSON.parse(hemp.strip);
const reading = await directAnalyst.read({
  kind: 'read',
  photo: hemp.photo,
  strip: parseStrip(strip),
  marks,
});
const deskOf = (store: Store): Desk => ({
  store,
  analyst: { read: async () => reading },
  now: () => new Date('2026-06-01T08:00:00Z'),
});
/** A photo like no other, of so many bytes: only its bytes matter here. */
const photoOf = (n: number, bytes: number): Uint8Array =>
  new Uint8Array(bytes).fill(n % 251).fill(n >> 8, 0, 8);
const keep = (store: Store, n: number, bytes = 20_000) =>
  keepReading(deskOf(store), { photo: photoOf(n, bytes), strip, marks, context: keepContext.parse({}) });

const folder = mkdtempSync(join(tmpdir(), 'tonestep-disks-'));
let disk: SmallDisk | null = null;
afterEach(() => {
  disk?.remove();
  disk = null;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const probe = smallDisk(1_000_000);
probe?.remove();
const needsDisk = probe === null ? ', skipped: only root may mount a small disk' : '';

describe.skipIf(probe === null)(`on a disk of 3 MB that fills up${needsDisk}`, () => {
  it('says so, loses nothing that was kept, and goes on when there is room again', async () => {
    disk = smallDisk(3_000_000)!;
    const ballast = join(disk.folder, 'ballast');
    writeFileSync(ballast, new Uint8Array(1_000_000));
    const store = await openStore({ folder: join(disk.folder, 'data') });
    const kept: string[] = [];
    let refusal: unknown;
    for (let n = 1; n < 200 && refusal === undefined; n++)
      try {
        kept.push((await keep(store, n)).line.id);
      } catch (error) {
        refusal = error;
      }
    expect(refusal).toMatchObject({ code: 'disk-full', message: expect.stringMatching(/Make room/) });
    expect(kept.length).toBeGreaterThan(5);
    // Small rows fit longer than photos do: the database itself has to meet the end of the disk too.
    let second: unknown;
    for (let n = 1000; n < 1400 && second === undefined; n++)
      try {
        kept.push((await keep(store, n, 1)).line.id);
      } catch (error) {
        second = error;
      }
    expect(second).toMatchObject({ code: 'disk-full' });
    const there = async () =>
      (await store.read((db) => db.selectFrom('readings').select('id').execute())).map((row) => row.id);
    expect((await there()).sort()).toEqual([...kept].sort());
    rmSync(ballast);
    kept.push((await keep(store, 5000)).line.id);
    expect((await there()).sort()).toEqual([...kept].sort());
    expect(await checkStore(store)).toMatchObject({ sound: true, lost: [] });
    expect(readdirSync(join(store.folder, 'photos', 'incoming'))).toEqual([]);
    await store.close();
  });

  it('refuses to open a new book where there is no room for one, and leaves none half-made', async () => {
    disk = smallDisk(1_000_000)!;
    writeFileSync(join(disk.folder, 'ballast'), new Uint8Array(960_000));
    const data = join(disk.folder, 'data');
    await expect(openStore({ folder: data })).rejects.toMatchObject({ code: 'disk-full' });
    rmSync(join(disk.folder, 'ballast'));
    const store = await openStore({ folder: data });
    expect((await countRows(deskOf(store))).counts.reading).toBe(0);
    await store.close();
  });

  it('refuses a backup onto it, and leaves none that looks whole', async () => {
    const store = await openStore({ folder: join(folder, 'to back up') });
    for (let n = 1; n < 6; n++) await keep(store, n, 300_000);
    disk = smallDisk(1_000_000)!;
    const target = join(disk.folder, 'backup');
    await expect(backupStore(store, target)).rejects.toMatchObject({ code: 'disk-full' });
    expect(readdirSync(disk.folder)).toEqual([]);
    await store.close();
  });
});

describe('on a disk or in a folder that is read-only', () => {
  const locked = async (): Promise<string> => {
    const made = mkdtempSync(join(folder, 'locked-'));
    const store = await openStore({ folder: made });
    await keep(store, 1);
    await store.close();
    disk = smallDisk(3_000_000);
    if (!disk) {
      chmodSync(made, 0o555);
      return made;
    }
    const data = join(disk.folder, 'data');
    cpSync(made, data, { recursive: true });
    disk.makeReadOnly();
    return data;
  };

  it('says so with the next step and without a path, and the book is as it was', async () => {
    const data = await locked();
    const refused = await openStore({ folder: data }).catch((error: unknown) => error);
    expect(refused).toMatchObject({
      code: 'book-read-only',
      message: expect.stringMatching(/TONESTEP_DATA/),
    });
    expect((refused as Error).message).not.toContain(data);
    expect(existsSync(join(data, BOOK_FILE))).toBe(true);
    expect(readdirSync(join(data, 'photos')).length).toBe(2);
    if (!disk) chmodSync(data, 0o755);
  });
});

describe('a backup', () => {
  it('brings back every reading and photo on another machine, and reads the same', async () => {
    const store = await openStore({ folder: join(folder, 'one') });
    for (let n = 1; n < 4; n++) await keep(store, n);
    const target = join(folder, 'backup of one');
    expect(await backupStore(store, target)).toEqual({ readings: 3, photos: 3, lost: [] });
    const other = join(folder, 'other machine');
    const report = await restoreStore(target, other, { replace: false, now: new Date() });
    expect(report).toEqual({ readings: 3, photos: 3, lost: [], setAside: null });
    const restored = await openStore({ folder: other });
    const rows = (from: Store) =>
      from.read((db) => db.selectFrom('readingBodies').selectAll().orderBy('readingId').execute());
    expect(await rows(restored)).toEqual(await rows(store));
    expect(await checkStore(restored)).toEqual({ sound: true, photos: 3, lost: [], spare: 0 });
    await restored.close();
    await store.close();
  });

  it('is taken while another program writes, and holds what was kept before it began', async () => {
    const store = await openStore({ folder: join(folder, 'busy') });
    const writer = await openStore({ folder: join(folder, 'busy') });
    await keep(store, 1);
    const writes = (async () => {
      for (let n = 2; n < 12; n++) await keep(writer, n);
    })();
    const report = await backupStore(store, join(folder, 'backup of busy'));
    await writes;
    expect(report.readings).toBeGreaterThanOrEqual(1);
    expect(report.lost).toEqual([]);
    expect(report.photos).toBe(report.readings);
    await Promise.all([store.close(), writer.close()]);
  });

  it('is refused where something is at its place, and a restore where there is a book or no backup', async () => {
    const store = await openStore({ folder: join(folder, 'refusing') });
    await keep(store, 1);
    const target = join(folder, 'backup of refusing');
    await backupStore(store, target);
    await expect(backupStore(store, target)).rejects.toMatchObject({ code: 'request-invalid' });
    await expect(
      restoreStore(target, store.folder, { replace: false, now: new Date() }),
    ).rejects.toMatchObject({ code: 'request-invalid', message: expect.stringMatching(/--replace/) });
    // The book is open here, which is what another program would be.
    await expect(
      restoreStore(target, store.folder, { replace: true, now: new Date() }),
    ).rejects.toMatchObject({ code: 'book-busy' });
    await expect(
      restoreStore(join(folder, 'nothing'), join(folder, 'new'), { replace: false, now: new Date() }),
    ).rejects.toMatchObject({ code: 'request-invalid' });
    expect(await checkStore(store)).toMatchObject({ sound: true, photos: 1, lost: [] });
    await store.close();
  });

  it('that is damaged is not taken, and the data folder stays as it was', async () => {
    const damaged = join(folder, 'damaged');
    mkdirSync(damaged);
    writeFileSync(join(damaged, BOOK_FILE), 'no database at all, only words. '.repeat(400));
    const fresh = join(folder, 'fresh');
    await expect(restoreStore(damaged, fresh, { replace: false, now: new Date() })).rejects.toMatchObject({
      code: 'book-unavailable',
    });
    expect(readdirSync(fresh)).toEqual([]);
  });
});

describe('trouble of disk and database', () => {
  it.each([
    // Result codes: SQLite documentation "Result and Error Codes"; SQLSTATE: PostgreSQL 15 documentation, appendix A;
    // the rest: errno(3).
    ['SQLITE_FULL', 'full'],
    ['ENOSPC', 'full'],
    ['EDQUOT', 'full'],
    ['53100', 'full'],
    ['SQLITE_READONLY_DIRECTORY', 'readOnly'],
    ['EROFS', 'readOnly'],
    ['25006', 'readOnly'],
    ['SQLITE_BUSY_SNAPSHOT', 'busy'],
    ['40001', 'busy'],
    ['40P01', 'busy'],
    ['SQLITE_CONSTRAINT_UNIQUE', 'taken'],
    ['23505', 'taken'],
    ['SQLITE_CONSTRAINT_FOREIGNKEY', 'unknownRow'],
    ['23503', 'unknownRow'],
    ['SQLITE_CORRUPT', 'damaged'],
    ['SQLITE_NOTADB', 'damaged'],
    ['08006', 'away'],
    ['57P01', 'away'],
    ['ECONNREFUSED', 'away'],
    ['SQLITE_ERROR', null],
    ['42601', null],
  ] as const)('%s is told as %s', (code, kind) => {
    expect(troubleOf(Object.assign(new Error('x'), { code }))).toBe(kind);
  });
});
