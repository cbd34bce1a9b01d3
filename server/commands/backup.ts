import { backupStore } from '../store/backup.ts';
import { type Command, CommandError } from './command.ts';
import { counted } from './counted.ts';
import { located } from './files.ts';
import { parseWords } from './options.ts';
import { withBook } from './withBook.ts';
import { wrapped } from './wrapped.ts';

/** `tonestep backup`: the whole book in a new folder. */
export const backup: Command = {
  name: 'backup',
  usage: ['FOLDER [--json]'],
  summary: 'copies the book and its photos into a new folder, also while others write in it',
  options: [
    ['FOLDER', 'does not exist yet; best on another disk'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { positionals } = parseWords(words, { json: { type: 'boolean' } });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name the folder that the backup is to be');
    const [folder] = positionals;
    const report = await withBook(({ store }) => backupStore(store, located(folder)));
    return {
      text: `${[
        wrapped(
          `Kept in ${folder}: ${counted(report.readings, 'reading')} and ${counted(report.photos, 'photo')}.`,
        ),
        ...(report.lost.length > 0
          ? [wrapped(`${report.lost.length} photos were missing from the data folder and are not in it.`)]
          : []),
        wrapped(`"tonestep restore ${folder}" brings it back.`),
      ].join('\n')}\n`,
      json: { folder, ...report },
    };
  },
};
