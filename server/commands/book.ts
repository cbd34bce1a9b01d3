import { targetWords } from '../../analysis/advice/sentence.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import { type ReadingLine, readingFilter } from '../contracts/recordReadings.ts';
import { noteFields } from '../contracts/recordUse.ts';
import { parsedBy } from '../parsedBy.ts';
import type { Desk } from '../record/bookDesk.ts';
import { keptReadingById, readAgain } from '../record/keepReading.ts';
import { listReadings } from '../record/readingRows.ts';
import { countRows, listNotes, setPutAway, writeNote } from '../record/rows.ts';
import { checkStore } from '../store/checkStore.ts';
import { shortPlace } from '../store/dataFolder.ts';
import { momentOf, namedBatch, namedThing } from './bookWords.ts';
import { columns } from './columns.ts';
import { type Command, type CommandAnswer, CommandError } from './command.ts';
import { counted } from './counted.ts';
import { parseWords, wholeNumberOf } from './options.ts';
import { readingText } from './readingText.ts';
import { fullReadingId } from './rowId.ts';
import { withBook } from './withBook.ts';
import { WORKSHOP_HELP, WORKSHOP_WORDS, workshopOf } from './workshop.ts';
import { wrapped } from './wrapped.ts';

const PURPOSE_MARK = { calibration: '', control: 'control', print: 'print' } as const;

const timeOf = ({ roundedSeconds, target, baseL }: ReadingLine): string =>
  roundedSeconds === null
    ? 'no time'
    : `${formatClock(roundedSeconds)} ${target.kind === 'full' ? 'full' : targetWords(target, baseL ?? 0).replace(/ \(.*/, '')}`;

const marksOf = (line: ReadingLine): string =>
  [
    PURPOSE_MARK[line.purpose],
    line.relative ? 'relative' : '',
    line.confirmed ? '' : 'marks unseen',
    line.supersededById ? 'read again' : '',
    line.putAwayAt ? 'put away' : '',
  ]
    .filter(Boolean)
    .join(', ');

const listText = (lines: readonly ReadingLine[], total: number, offset: number): string => {
  if (total === 0) return 'No reading in the book that fits.\n';
  const heads = columns(
    lines.map((line) => [line.id.slice(0, 8), line.exposedAt.slice(0, 10), timeOf(line), marksOf(line)]),
    ['left', 'left', 'left', 'left'],
  );
  const shown =
    lines.length < total
      ? `${offset + 1} to ${offset + lines.length} of ${counted(total, 'reading')}; --from-row ${offset + lines.length} shows the next.`
      : `${counted(total, 'reading')}.`;
  return `${[
    ...lines.flatMap((line, i) => [
      heads[i],
      wrapped([line.dye, line.cloth, line.light].join(' · '), '          ', '          '),
    ]),
    '',
    shown,
  ].join('\n')}\n`;
};

const showOne = async (desk: Desk, id: string): Promise<CommandAnswer> => {
  const kept = await keptReadingById(desk, id);
  const notes = await listNotes(desk, { kind: 'reading', id, away: false });
  const { line } = kept;
  const facts = [
    `Reading ${line.id}, exposed ${line.exposedAt.slice(0, 10)}, read ${line.readAt.slice(0, 10)} by method ${line.methodVersion}.`,
    line.batch === null ? '' : `Batch "${line.batch}".`,
    line.lampHours === null ? '' : `Lamp hours ${line.lampHours}.`,
    line.sky === null ? '' : `Sky ${line.sky}.`,
    line.supersedesId === null ? '' : `Stands in for ${line.supersedesId.slice(0, 8)}.`,
    line.supersededById === null
      ? ''
      : `Read again as ${line.supersededById.slice(0, 8)}, which stands in for it.`,
    kept.settings.also ? `Read from ${1 + kept.settings.also.length} photos.` : '',
    kept.settings.earlier
      ? `Fitted together with ${counted(kept.settings.earlier.length, 'earlier strip')}.`
      : '',
    line.putAwayAt === null ? '' : `Put away ${line.putAwayAt.slice(0, 10)}.`,
    line.remark,
  ];
  return {
    text: `${[
      wrapped(facts.filter(Boolean).join(' ')),
      ...notes.map((note) => wrapped(`${note.createdAt.slice(0, 10)}: ${note.text}`)),
      '',
      readingText(kept.reading as never).trimEnd(),
    ].join('\n')}\n`,
    json: { ...kept, notes },
  };
};

const checkText = async (desk: Desk): Promise<CommandAnswer> => {
  const counts = await countRows(desk);
  const check = await checkStore(desk.store);
  const { database } = counts;
  const place = shortPlace(desk.store.folder);
  return {
    text: `${[
      wrapped(
        `The book is in ${place}${database === 'postgresql' ? ' (photos) and on PostgreSQL (everything else)' : ''}.`,
      ),
      wrapped(
        `${counted(counts.counts.reading, 'reading')}, ${counted(counts.counts.control, 'control scrap')}, ${counted(counts.counts.print, 'print')}, ${counted(check.photos, 'photo')} (${(counts.photoBytes / 1e6).toFixed(1)} MB).`,
      ),
      wrapped(check.sound ? 'The database is sound.' : 'The database is damaged: restore the latest backup.'),
      wrapped(
        check.lost.length === 0
          ? 'Every photo is there, byte for byte.'
          : `${counted(check.lost.length, 'photo')} missing or changed: bring the photos folder back from a backup.`,
      ),
    ].join('\n')}\n`,
    json: { place, ...counts, ...check },
  };
};

const OPTIONS = {
  dye: { type: 'string' },
  cloth: { type: 'string' },
  light: { type: 'string' },
  batch: { type: 'string' },
  from: { type: 'string' },
  to: { type: 'string' },
  text: { type: 'string' },
  all: { type: 'boolean' },
  rows: { type: 'string' },
  'from-row': { type: 'string' },
  again: { type: 'boolean' },
  ...WORKSHOP_WORDS,
  confirm: { type: 'boolean' },
  note: { type: 'string' },
  'put-away': { type: 'boolean' },
  'bring-back': { type: 'boolean' },
  check: { type: 'boolean' },
  json: { type: 'boolean' },
} as const;

/** What can be done to one reading; at most one of them at a time. */
const ON_ONE = ['again', 'note', 'put-away', 'bring-back'] as const;

/** `tonestep book`: what is kept. */
export const book: Command = {
  name: 'book',
  usage: [
    '[--dye NAME] [--cloth NAME] [--light NAME] [--batch NAME] [--from DAY] [--to DAY] [--text WORDS]',
    'ID [--again | --note TEXT | --put-away | --bring-back]',
    '--check',
  ],
  summary: 'lists what is kept, shows one reading whole, and checks that nothing is lost',
  options: [
    ['ID', 'one reading: the beginning of its id, or "latest"'],
    ['--dye NAME', 'only this dye; likewise --cloth, --light and --batch'],
    ['--cloth NAME', 'only this cloth'],
    ['--light NAME', 'only this light'],
    ['--batch NAME', 'only this batch of sensitiser'],
    ['--from DAY', 'exposed on or after this day'],
    ['--to DAY', 'exposed before this day'],
    ['--text WORDS', 'words that all occur in names or remark'],
    ['--all', 'also what was put away, and readings that a later one stands in for'],
    ['--rows N', 'how many at once, 50 when left out'],
    ['--from-row N', 'where to go on'],
    ['--again', 'read the photo of this one again by the present method; the old reading stays'],
    ...WORKSHOP_HELP.map(([option, text]) => [option, `with --again: ${text}`] as const),
    ['--confirm', 'with --again: you have looked at the marks'],
    ['--note TEXT', 'write a note on this one'],
    ['--put-away', 'list and use this one no longer; nothing is deleted'],
    ['--bring-back', 'the opposite'],
    ['--check', 'is the database sound, and is every photo there? Also says where the book is'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, OPTIONS);
    const on = ON_ONE.filter((option) => values[option] !== undefined);
    const options = workshopOf(values);
    if (Object.keys(options).length > 0 && !values.again)
      throw new CommandError('usage', '--timer-step and --verdict go with --again');
    if (positionals.length > 1) throw new CommandError('usage', 'Name one reading at a time');
    if (on.length > 1) throw new CommandError('usage', `--${on[0]} does not go with --${on[1]}`);
    if (on.length === 1 && positionals.length === 0)
      throw new CommandError('usage', `--${on[0]} needs the id of a reading before it`);
    const limit = wholeNumberOf('rows', values.rows, 1) ?? 50;
    if (limit > 500) throw new CommandError('usage', '--rows can be 500 at most');
    const offset = wholeNumberOf('from-row', values['from-row'], 0) ?? 0;
    const from = momentOf(
      'from',
      values.from && /^\d{4}-\d\d-\d\d$/.test(values.from) ? `${values.from}T00:00` : values.from,
    );
    const to = momentOf(
      'to',
      values.to && /^\d{4}-\d\d-\d\d$/.test(values.to) ? `${values.to}T00:00` : values.to,
    );
    return withBook(async (desk) => {
      if (values.check) return checkText(desk);
      if (positionals.length === 1) {
        const id = await fullReadingId(desk, positionals[0]);
        if (values.again) {
          const again = await readAgain(desk, id, {
            confirmed: values.confirm ?? false,
            ...(Object.keys(options).length > 0 && { options }),
          });
          return showOne(desk, again.line.id);
        }
        if (values.note !== undefined)
          await writeNote(desk, parsedBy(noteFields, { on: { kind: 'reading', id }, text: values.note }));
        if (values['put-away'] || values['bring-back'])
          await setPutAway(desk, { kind: 'reading', id }, values['put-away'] ?? false);
        return showOne(desk, id);
      }
      const filter = parsedBy(readingFilter, {
        ...(values.dye !== undefined && { dyeId: (await namedThing(desk, 'dyes', values.dye)).id }),
        ...(values.cloth !== undefined && { clothId: (await namedThing(desk, 'cloths', values.cloth)).id }),
        ...(values.light !== undefined && { lightId: (await namedThing(desk, 'lights', values.light)).id }),
        ...(values.batch !== undefined && { batchId: (await namedBatch(desk, values.batch))?.id }),
        ...(from && { from }),
        ...(to && { to }),
        ...(values.text !== undefined && { text: values.text }),
        away: String(values.all ?? false),
        superseded: String(values.all ?? false),
        limit,
        offset,
      });
      const list = await desk.store.read((db) => listReadings(db, filter));
      return { text: listText(list.readings, list.total, list.offset), json: list };
    });
  },
};
