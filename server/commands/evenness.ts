import { evennessOf } from '../across/evening.ts';
import { type Command, CommandError } from './command.ts';
import { evennessText } from './evennessText.ts';
import { readJson } from './files.ts';
import { parseWords, percentOf, wholeNumberOf } from './options.ts';
import { parseCells } from './sheetCells.ts';
import { readStoredReading } from './storedReading.ts';

/** `tonestep evenness`: how alike is the light over the bed? */
export const evenness: Command = {
  name: 'evenness',
  usage: ['CELLS.json --curve READING.json [--within 10%]'],
  summary: 'maps how even the light is over the bed, from a sheet exposed at one time to mid depth',
  options: [
    ['CELLS.json', '{"uL": 0.5, "cells": [[60.1, 60.4, …], …]}: L* per cell, rows from the top'],
    ['--curve FILE', 'a reading of the same dye on the same cloth'],
    ['--within PERCENT', 'how far the light may differ where the bed is used, ± 10 % when left out'],
    ['--seed N', 'seed of the intervals, 1 when left out'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, {
      curve: { type: 'string' },
      within: { type: 'string' },
      seed: { type: 'string' },
      json: { type: 'boolean' },
    });
    if (positionals.length !== 1) throw new CommandError('usage', 'Name one file of cells');
    if (values.curve === undefined)
      throw new CommandError('usage', 'The reading of this dye is missing: add --curve READING.json');
    const tolerancePercent = percentOf('within', values.within?.replace(/^\s*±\s*/, ''));
    const seed = wholeNumberOf('seed', values.seed, 0);
    const cells = parseCells(positionals[0], await readJson(positionals[0], 'file-invalid'));
    const map = evennessOf(
      {
        ...cells,
        ...(tolerancePercent === undefined ? {} : { tolerancePercent }),
        ...(seed === undefined ? {} : { seed }),
      },
      await readStoredReading(values.curve),
    );
    return { text: evennessText(map), json: map };
  },
};
