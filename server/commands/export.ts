import { randomUUID } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { open, rename, rm } from 'node:fs/promises';
import { pipeline } from 'node:stream/promises';
import { writeArchive } from '../exchange/archiveWrite.ts';
import { type Command, CommandError } from './command.ts';
import { counted } from './counted.ts';
import { parseWords } from './options.ts';
import { withBook } from './withBook.ts';
import { wrapped } from './wrapped.ts';
import { unwritable, whereTyped } from './writeBytes.ts';

/** `tonestep export`: the whole book in one file. */
export const exportBook: Command = {
  name: 'export',
  usage: ['--out FILE.zip'],
  summary: 'packs the whole book, photos included, into one file for another machine or another program',
  options: [
    ['--out FILE.zip', 'where it goes; replaced where there is one, and only once the new one is whole'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, { out: { type: 'string' }, json: { type: 'boolean' } });
    // "export FILE.zip" is how it was said at first.
    const [file, ...more] = [...(values.out === undefined ? [] : [values.out]), ...positionals];
    if (file === undefined) throw new CommandError('usage', 'Say where the archive goes: add --out BOOK.zip');
    if (more.length > 0) throw new CommandError('usage', `"${more[0]}" is one word too many`);
    const path = whereTyped(file);
    const unfinished = `${path}.${randomUUID().slice(0, 8)}.part`;
    const made = await withBook(async ({ store }) => {
      const target = createWriteStream(unfinished, { flags: 'wx' });
      const writable = new Promise<void>((done, fail) => {
        target.once('open', () => done());
        target.once('error', (error) => fail(unwritable(file, error)));
      });
      try {
        await writable;
        const archive = writeArchive(store);
        const written = pipeline(archive.bytes, target).catch((error: unknown) => {
          throw unwritable(file, error);
        });
        const [result] = await Promise.all([archive.made, written]);
        const handle = await open(unfinished, 'r+');
        await handle.sync();
        await handle.close();
        await rename(unfinished, path);
        return result;
      } catch (error) {
        await rm(unfinished, { force: true });
        throw error;
      }
    });
    const { readings, photos, photosLost } = made;
    return {
      text: `${[
        wrapped(
          `Wrote ${file}: ${counted(readings, 'reading')} and ${counted(photos - photosLost, 'photo')}.`,
        ),
        ...(photosLost > 0
          ? [wrapped(`${photosLost} photos are missing from the data folder and are not in it.`)]
          : []),
        wrapped(`"tonestep import ${file}" brings it into another book.`),
      ].join('\n')}\n`,
      json: { file, ...made },
    };
  },
};
