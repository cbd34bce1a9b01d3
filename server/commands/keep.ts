import { parseTarget } from '../../analysis/advice/target.ts';
import { SKIES } from '../../analysis/plan/sky.ts';
import { keepContext } from '../contracts/recordReadings.ts';
import type { Control } from '../contracts/recordUse.ts';
import { parsedBy } from '../parsedBy.ts';
import type { Desk } from '../record/bookDesk.ts';
import { keepControl } from '../record/controls.ts';
import { describedStrip } from '../record/describedStrip.ts';
import { keepReading } from '../record/keepReading.ts';
import { makeThing, thingByName } from '../record/things.ts';
import { momentOf, namedBatch } from './bookWords.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, numberOf, parseWords } from './options.ts';
import { PHOTO_WORDS, photoHelp, photoInput } from './photoInput.ts';
import { readingText } from './readingText.ts';
import { fullReadingId } from './rowId.ts';
import { withBook } from './withBook.ts';
import { workshopOf } from './workshop.ts';
import { wrapped } from './wrapped.ts';

/** The batch of this name, made where the book has none and the day of its mixing is said. */
const batchFor = async (desk: Desk, name: string | undefined, mixedAt: string | undefined) => {
  if (name === undefined) {
    if (mixedAt !== undefined) throw new CommandError('usage', '--mixed needs --batch NAME beside it');
    return null;
  }
  const known = await desk.store.read((db) => thingByName(db, 'batches', name));
  if (known || mixedAt === undefined) return known ?? namedBatch(desk, name);
  return makeThing(desk, 'batches', { name, dyeId: null, mixedAt, remark: '' });
};

const shortId = (id: string): string => id.slice(0, 8);

/** `tonestep keep`: a photo and its reading into the book. */
export const keep: Command = {
  name: 'keep',
  usage: [
    'PHOTO [--strip STRIP.json] [--marks MARKS.json] [--batch NAME] [--lamp-hours N] …',
    'PHOTO [--also PHOTO] [--with ID] …',
  ],
  summary: 'reads a photo of a test strip and keeps photo and reading in the book',
  options: [
    ...photoHelp({
      target: '"L=45", "depth=80%", "full" (when left out), "swatch=L,a,b"',
      further: '; kept as well',
    }),
    [
      '--with ID',
      'a kept reading of an earlier strip of the same dye, cloth and light, fitted together; may be repeated',
    ],
    ['--batch NAME', 'the batch of sensitiser; with --mixed where it is new'],
    ['--mixed DAY', 'when that batch was mixed, as 2026-05-30'],
    ['--lamp-hours N', "what the lamps' hour meter showed"],
    ['--light-kind KIND', 'what a light that is new to the book is: lamps (when left out) or sun'],
    ['--sky SKY', 'clear, scattered, broken or overcast'],
    ['--exposed DAY', 'when it was exposed; now when left out'],
    ['--control', 'it is a control scrap: keep it held against the calibration of its dye, cloth and light'],
    ['--against ID', 'the calibration that the control scrap is held against, where it is another'],
    ['--confirm', 'you have looked at the marks: keep it though they were not found surely'],
    ['--remark TEXT', 'your own words'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      ...PHOTO_WORDS,
      with: { type: 'string', multiple: true },
      batch: { type: 'string' },
      mixed: { type: 'string' },
      'lamp-hours': { type: 'string' },
      'light-kind': { type: 'string' },
      sky: { type: 'string' },
      exposed: { type: 'string' },
      control: { type: 'boolean' },
      against: { type: 'string' },
      confirm: { type: 'boolean' },
      remark: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name one photo');
    if (values.against !== undefined && !values.control)
      throw new CommandError('usage', '--against needs --control beside it');
    const [path] = positionals;
    const target = values.target === undefined ? undefined : parseTarget(values.target);
    const options = workshopOf(values);
    const context = {
      purpose: values.control ? ('control' as const) : ('calibration' as const),
      lampHours: numberOf('lamp-hours', values['lamp-hours'], 0) ?? null,
      lightKind: choiceOf('light-kind', values['light-kind'], ['lamps', 'sun']) ?? ('lamps' as const),
      sky: choiceOf('sky', values.sky, SKIES) ?? null,
      confirmed: values.confirm ?? false,
      remark: values.remark ?? '',
    };
    const exposedAt = momentOf('exposed', values.exposed);
    const mixedAt = momentOf('mixed', values.mixed);
    const { photo, stripJson, marks, taps, also } = await photoInput(path, values);
    const strip = describedStrip(stripJson);
    return withBook(async (desk) => {
      const againstId = values.against === undefined ? null : await fullReadingId(desk, values.against);
      const withIds: string[] = [];
      for (const text of values.with ?? []) withIds.push(await fullReadingId(desk, text));
      const batch = await batchFor(desk, values.batch, mixedAt);
      const kept = await keepReading(desk, {
        photo,
        strip,
        marks,
        ...(taps && { taps }),
        ...(also.length > 0 && { also: also.map(({ bytes, ...rest }) => ({ photo: bytes, ...rest })) }),
        target,
        options,
        context: parsedBy(keepContext, {
          ...context,
          batchId: batch?.id ?? null,
          ...(withIds.length > 0 && { withIds }),
          ...(exposedAt && { exposedAt }),
        }),
      });
      const control: Control | null = values.control
        ? await keepControl(desk, {
            againstId,
            readingId: kept.line.id,
            setup: '',
            batchId: null,
            lampHours: null,
            sky: null,
            remark: context.remark,
          })
        : null;
      return {
        text: `${[
          control ? wrapped(control.sentence) : readingText(kept.reading as never).trimEnd(),
          '',
          wrapped(
            control
              ? `Kept as control scrap ${shortId(control.id)}, held against ${shortId(control.againstId)}.`
              : `Kept as ${shortId(kept.line.id)}. "tonestep today" answers from it.`,
          ),
        ].join('\n')}\n`,
        json: control ? { ...kept, control } : kept,
      };
    });
  },
};
