import { z } from 'zod';
import type { ControlRecord } from '../../analysis/across/drift.ts';
import type { RecordedCurve } from '../../analysis/across/recorded.ts';
import { type ControlScrap, transferByControl } from '../../analysis/across/transfer.ts';
import type { Warning } from '../../analysis/errors.ts';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { controlRecord } from '../contracts/drift.ts';
import { CommandError } from './command.ts';
import { scrapsOf } from './scraps.ts';
import type { StoredReading } from './storedReading.ts';

/** A control scrap as it was noted: its shift, or its reading that the shift follows from. */
export interface NotedControl {
  /** The day, where it was noted. */
  readonly date: string | null;
  /** The reading's file, where it comes from one. */
  readonly file: string | null;
  readonly setup: string;
  readonly lampHours: number | undefined;
  readonly shiftStops: number | undefined;
  readonly scraps: readonly ControlScrap[];
}

/** A control scrap ready to be charted, with its day. */
export interface DatedControl extends ControlRecord {
  readonly date: string | null;
  readonly file: string | null;
}

const recordFile = z.object({ records: z.array(controlRecord).min(1).max(5000) });

/** Is this the file of a notebook, rather than a reading? */
export const isRecordFile = (json: unknown): boolean =>
  typeof json === 'object' && json !== null && 'records' in json;

/**
 * Reads a notebook of control scraps, `{"records": [{"date", "setup", "lampHours", "shiftStops" or "scraps"}]}`, in the
 * order of their dates.
 *
 * @throws CommandError `file-invalid`, with the place of what is wrong.
 */
export const parseRecords = (path: string, json: unknown): NotedControl[] => {
  const parsed = recordFile.safeParse(json);
  if (!parsed.success)
    throw new CommandError(
      'file-invalid',
      `${path} can't be used: ${firstIssue(parsed.error)}. It needs "records": [{"date": "2025-05-03", "setup": "tubes 1", "shiftStops": 0.02}], or "scraps": [{"seconds", "L", "uL"}] in place of the shift.`,
    );
  return notedRecords(parsed.data.records);
};

/** Records as notes, in the order of their dates. */
export const notedRecords = (records: readonly z.infer<typeof controlRecord>[]): NotedControl[] =>
  records
    .map(({ date, setup, lampHours, shiftStops, scraps = [] }) => ({
      date,
      file: null,
      setup,
      lampHours,
      shiftStops,
      scraps,
    }))
    .sort((a, b) => Date.parse(a.date) - Date.parse(b.date));

/** A control's reading as a note: its set-up is what its strip says. */
export const notedReading = (stored: StoredReading): NotedControl => {
  const { dye, cloth, light } = stored.reading.strip;
  return {
    date: null,
    file: stored.path,
    setup: [light, cloth, dye].filter(Boolean).join(' · '),
    lampHours: undefined,
    shiftStops: undefined,
    scraps: scrapsOf(stored),
  };
};

/**
 * The shift of every noted control against the recorded curve. Scraps too pale or too deep to tell are left out with a
 * warning.
 *
 * @param recorded needed where a note has scraps and no shift.
 * @throws CommandError `usage` where it is needed and missing.
 */
export const chartable = (
  noted: readonly NotedControl[],
  recorded: RecordedCurve | null,
): { readonly records: readonly DatedControl[]; readonly warnings: readonly Warning[] } => {
  const warnings: Warning[] = [];
  const records = noted.flatMap(({ date, file, setup, lampHours, shiftStops, scraps }, i): DatedControl[] => {
    const timed = { date, file, setup, ...(lampHours === undefined ? {} : { lampHours }) };
    if (shiftStops !== undefined) return [{ ...timed, shiftStops }];
    if (recorded === null)
      throw new CommandError(
        'usage',
        'The controls are readings without a shift: add --curve READING.json, the reading that they are held against',
      );
    const found = transferByControl(recorded, scraps);
    if (found.kind === 'transferred') return [{ ...timed, shiftStops: found.shiftStops.value ?? 0 }];
    warnings.push({
      code: 'control-left-out',
      message: `Control ${i + 1} (${date ?? file}) is left out. ${found.sentence}`,
    });
    return [];
  });
  return { records, warnings };
};
