import { basename } from 'node:path';
import type { DriftReport } from '../../analysis/across/drift.ts';
import type { Warning } from '../../analysis/errors.ts';
import type { DatedControl } from './controlRecords.ts';
import { wrapped } from './wrapped.ts';

type Answer = DriftReport & {
  readonly records: readonly DatedControl[];
  readonly warnings: readonly Warning[];
};

const CHART_WIDTH = 45;
/** Newest controls that the chart shows; all are counted. */
const MOST_ROWS = 40;

const signed = (stops: number) => `${stops < 0 ? '−' : '+'}${Math.abs(stops).toFixed(2)}`;

/** A row's place on a scale from `low` to `high`. */
const placeOn = (low: number, high: number) => (stops: number) =>
  Math.max(0, Math.min(CHART_WIDTH - 1, Math.round(((stops - low) / (high - low)) * (CHART_WIDTH - 1))));

const dayOf = ({ date, file }: DatedControl) => (date ?? basename(file ?? '')).slice(0, 10).padEnd(10);

const chartLines = (answer: Extract<Answer, { kind: 'chart' }>): string[] => {
  const { mean, lower, upper } = answer.individuals;
  const present = answer.records.slice(answer.from);
  const shown = present.slice(-MOST_ROWS);
  const shifts = shown.map((record) => record.shiftStops);
  const [least, most] = [Math.min(lower, ...shifts), Math.max(upper, ...shifts)];
  const margin = Math.max(0.05 * (most - least), 1e-3);
  const at = placeOn(least - margin, most + margin);
  const flagged = new Set(answer.findings.map((finding) => finding.index));
  const first = answer.records.length - shown.length;
  const left = present.length - shown.length;
  const rows = shown.map((record, i) => {
    const cells = new Array<string>(CHART_WIDTH).fill(' ');
    cells[at(mean)] = '│';
    for (const limit of [lower, upper]) cells[at(limit)] = '┊';
    cells[at(record.shiftStops)] = '●';
    const no = String(first + i + 1).padStart(4);
    const mark = flagged.has(first + i) ? ' !' : '';
    return `${no}  ${dayOf(record)}  ${signed(record.shiftStops)}  ${cells.join('')}${mark}`.trimEnd();
  });
  return [
    ...(left > 0 ? [`      (${left} earlier ${left === 1 ? 'scrap' : 'scraps'} counted but not shown)`] : []),
    ...rows,
    wrapped(
      `│ mean ${signed(mean)} stop, ┊ limits ${signed(lower)} and ${signed(upper)}; slow left, fast right; ! see below`,
    ),
  ];
};

/** The control chart for a person: a line per scrap, then what it means. */
export const driftText = (answer: Answer): string => {
  const lines = [
    ...(answer.kind === 'chart'
      ? [...chartLines(answer), '']
      : answer.records.map(
          (record, i) => `${String(i + 1).padStart(4)}  ${dayOf(record)}  ${signed(record.shiftStops)}`,
        )),
    ...(answer.kind === 'chart' ? answer.findings.map((finding) => wrapped(finding.text, '! ', '  ')) : []),
    wrapped(answer.sentence),
    ...answer.warnings.map((warning) => wrapped(`Note: ${warning.message}`)),
  ];
  return `${lines.join('\n')}\n`;
};
