import { z } from 'zod';
import type { SheetCell } from '../../analysis/across/evenness.ts';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { CommandError } from './command.ts';

/** Uncertainty of a cell against the others where the file says none: a well-lit photo. Common practice, no source. */
const USUAL_U = 0.5;

const lightness = z.number().min(0).max(100);
const uncertainty = z.number().positive().max(50);

const cellFile = z.object({
  uL: uncertainty.default(USUAL_U),
  cells: z
    .array(z.array(z.union([lightness, z.object({ L: lightness, uL: uncertainty }), z.null()])).max(1000))
    .max(1000),
});

/**
 * Reads the cells of a sheet, `{"uL": 0.5, "cells": [[60.1, …], …]}`: rows from the top, each cell an L*, an L* with its
 * own uncertainty, or null where it can't be read.
 *
 * @throws CommandError `file-invalid`, with the place of what is wrong.
 */
export const parseCells = (path: string, json: unknown): (SheetCell | null)[][] => {
  const parsed = cellFile.safeParse(json);
  if (!parsed.success)
    throw new CommandError(
      'file-invalid',
      `${path} can't be used: ${firstIssue(parsed.error)}. It needs "cells": rows of L* from the top, null where a cell can't be read, and "uL", the uncertainty of a cell.`,
    );
  const { cells, uL } = parsed.data;
  return cells.map((row) => row.map((cell) => (typeof cell === 'number' ? { L: cell, uL } : cell)));
};
