import { evennessFromPhotos, evennessOf } from '../across/evening.ts';
import { type Command, CommandError } from './command.ts';
import { evennessText, sheetText } from './evennessText.ts';
import { readBytes, readJson } from './files.ts';
import { parseWords, percentOf, wholeNumberOf } from './options.ts';
import { parseBed, parseCells } from './sheetCells.ts';
import { readStoredReading } from './storedReading.ts';

/** `tonestep evenness`: how alike is the light over the bed? */
export const evenness: Command = {
  name: 'evenness',
  usage: [
    '--photo SHEET.jpg --bed BED.json --marks MARKS.json --curve READING.json [--within 10%]',
    'CELLS.json --curve READING.json [--within 10%]',
  ],
  summary: 'maps how even the light is over the bed, from a sheet exposed at one time to mid depth',
  options: [
    ['--photo PHOTO', 'the washed sheet beside a card, plain table to be seen all round it'],
    [
      '--bed FILE',
      '{"card": "white-grey-black", "rows": 6, "columns": 8}: the card beside the sheet, its cells',
    ],
    [
      '--marks FILE',
      '{"card": [{"name", "quad"}], "sheet": {"quad"}}: corners of the sheet as it lay on the bed, from its top left',
    ],
    ['--also PHOTO', 'the same sheet once more, turned end for end; may be repeated'],
    ['--also-marks FILE', 'marks of that photo, in the order of --also'],
    ['CELLS.json', '{"uL": 0.5, "cells": [[60.1, 60.4, …], …]}: L* per cell, rows from the top'],
    ['--curve FILE', 'a reading of the same dye on the same cloth'],
    ['--within PERCENT', 'how far the light may differ where the bed is used, ± 10 % when left out'],
    ['--seed N', 'seed of the intervals, 1 when left out'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      photo: { type: 'string' },
      bed: { type: 'string' },
      marks: { type: 'string' },
      also: { type: 'string', multiple: true },
      'also-marks': { type: 'string', multiple: true },
      curve: { type: 'string' },
      within: { type: 'string' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    });
    const { photo, bed, marks, also = [], 'also-marks': alsoMarks = [] } = values;
    if (photo === undefined && positionals.length !== 1)
      throw new CommandError('usage', 'Give a photo of the sheet with --photo, or name one file of cells');
    if (photo !== undefined && positionals.length > 0)
      throw new CommandError('usage', `"${positionals[0]}" is one word too many beside --photo`);
    if (photo === undefined && (bed ?? marks ?? also[0] ?? alsoMarks[0]) !== undefined)
      throw new CommandError('usage', '--bed, --marks and --also need --photo beside them');
    if (photo !== undefined && (bed === undefined || marks === undefined))
      throw new CommandError('usage', `--photo needs ${bed === undefined ? '--bed' : '--marks'} beside it`);
    if (alsoMarks.length !== also.length)
      throw new CommandError('usage', `--also-marks needs one file for each --also: ${also.length}`);
    if (values.curve === undefined)
      throw new CommandError('usage', 'The reading of this dye is missing: add --curve READING.json');
    const tolerancePercent = percentOf('within', values.within?.replace(/^\s*±\s*/, ''));
    const seed = wholeNumberOf('seed', values.seed, 0);
    const chosen = {
      ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
      ...(seed === undefined ? {} : { seed }),
    };
    if (photo !== undefined) {
      const given = async (path: string, marksPath: string) => ({
        bytes: await readBytes(path),
        marks: await readJson(marksPath, 'marks-invalid'),
      });
      const answer = await evennessFromPhotos(
        { bed: parseBed(bed as string, await readJson(bed as string, 'file-invalid')), ...chosen },
        [
          await given(photo, marks as string),
          ...(await Promise.all(also.map((path, i) => given(path, alsoMarks[i])))),
        ],
        await readStoredReading(values.curve),
      );
      return { text: sheetText(answer), json: answer };
    }
    const cells = parseCells(positionals[0], await readJson(positionals[0], 'file-invalid'));
    const map = evennessOf({ ...cells, ...chosen }, await readStoredReading(values.curve));
    return { text: evennessText(map), json: map };
  },
};
