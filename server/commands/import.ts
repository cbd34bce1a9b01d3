import { readArchive } from '../exchange/archiveRead.ts';
import { type Command, CommandError } from './command.ts';
import { located, unreadable } from './files.ts';
import { parseWords } from './options.ts';
import { withBook } from './withBook.ts';
import { wrapped } from './wrapped.ts';

/** `tonestep import`: an archive into the book. */
export const importBook: Command = {
  name: 'import',
  usage: ['FILE.zip [--json]'],
  summary: 'brings an archive of another book into this one: all of it or nothing, and nothing twice',
  options: [
    ['FILE.zip', 'what "tonestep export" wrote'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { positionals } = parseWords(words, { json: { type: 'boolean' } });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name one archive');
    const [file] = positionals;
    const answer = await withBook(async ({ store }) => {
      try {
        return await readArchive(store, located(file));
      } catch (error) {
        throw unreadable(file, error) ?? error;
      }
    });
    return { text: `${wrapped(answer.sentence)}\n`, json: answer };
  },
};
