import { firstIssue } from '../../analysis/firstIssue.ts';
import { type BedDescription, bedDescription, type SheetCells, sheetCells } from '../contracts/evenness.ts';
import { CommandError } from './command.ts';

/**
 * Reads the cells of a sheet, `{"uL": 0.5, "cells": [[60.1, …], …]}`: rows from the top, each cell an L*, an L* with its
 * own uncertainty, or null where it can't be read.
 *
 * @throws CommandError `file-invalid`, with the place of what is wrong.
 */
export const parseCells = (path: string, json: unknown): SheetCells => {
  const parsed = sheetCells.safeParse(json);
  if (!parsed.success)
    throw new CommandError(
      'file-invalid',
      `${path} can't be used: ${firstIssue(parsed.error)}. It needs "cells": rows of L* from the top, null where a cell can't be read, and "uL", the uncertainty of a cell.`,
    );
  return parsed.data;
};

/** Reads what lies in the photo of a sheet. @throws CommandError `file-invalid`, with the place of what is wrong. */
export const parseBed = (path: string, json: unknown): BedDescription => {
  const parsed = bedDescription.safeParse(json);
  if (!parsed.success)
    throw new CommandError(
      'file-invalid',
      `${path} can't be used: ${firstIssue(parsed.error)}. It needs "card", and if wanted "rows" and "columns" from 3 to 12.`,
    );
  return parsed.data;
};
