import { restoreStore } from '../store/backup.ts';
import { dataFolder, shortPlace } from '../store/dataFolder.ts';
import { openStore } from '../store/openStore.ts';
import { type Command, CommandError } from './command.ts';
import { counted } from './counted.ts';
import { located } from './files.ts';
import { parseWords } from './options.ts';
import { wrapped } from './wrapped.ts';

/** `tonestep restore`: a backup becomes the book. */
export const restore: Command = {
  name: 'restore',
  usage: ['FOLDER [--replace]'],
  summary: 'brings a backup back; a book that is there is set aside, never removed',
  options: [
    ['FOLDER', 'made by "tonestep backup"'],
    ['--replace', 'there is a book already: set it aside'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      replace: { type: 'boolean' },
      json: { type: 'boolean' },
    });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name the folder of the backup');
    if (process.env.TONESTEP_DATABASE)
      throw new CommandError(
        'usage',
        'The book is on PostgreSQL: bring book.dump back with pg_restore and copy the photos back (docs/deploy.md)',
      );
    const folder = dataFolder();
    const report = await restoreStore(located(positionals[0]), folder, {
      replace: values.replace ?? false,
      now: new Date(),
    });
    // A backup of an older version is brought up to date at once, so that trouble shows now.
    await (await openStore({ folder })).close();
    return {
      text: `${[
        wrapped(
          `Restored to ${shortPlace(folder)}: ${counted(report.readings, 'reading')} and ${counted(report.photos, 'photo')}.`,
        ),
        ...(report.setAside
          ? [wrapped(`The book that was there lies in ${report.setAside} beside it.`)]
          : []),
        ...(report.lost.length > 0
          ? [wrapped(`${report.lost.length} photos are neither in the backup nor in the data folder.`)]
          : []),
      ].join('\n')}\n`,
      json: report,
    };
  },
};
