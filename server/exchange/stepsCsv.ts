import type { Reading, StepReading } from '../contracts/reading.ts';
import { type CsvColumn, csvText } from './csvText.ts';

interface Row {
  readonly reading: Reading;
  readonly step: StepReading;
  readonly number: number;
  readonly shortestSeconds: number | null;
}

const COLUMNS: readonly CsvColumn<Row>[] = [
  ['dye', ({ reading }) => reading.strip.dye],
  ['cloth', ({ reading }) => reading.strip.cloth],
  ['light', ({ reading }) => reading.strip.light],
  ['step', ({ number }) => number],
  ['exposure (s)', ({ step }) => step.seconds],
  [
    'above shortest step (stops)',
    ({ step, shortestSeconds }) =>
      shortestSeconds === null || step.seconds === 0 ? null : Math.log2(step.seconds / shortestSeconds),
  ],
  ['L*', ({ step }) => step.L],
  ['a*', ({ step }) => step.a],
  ['b*', ({ step }) => step.b],
  ['C*', ({ step }) => step.chroma],
  ['h (degrees)', ({ step }) => step.hue],
  ['Y (0 to 1)', ({ step }) => step.Y],
  ['visual density (log10)', ({ step }) => step.density],
  ['K/S above base (1)', ({ step }) => step.ksIndex],
  ['difference to base (ΔE00)', ({ step }) => step.deltaEToBase],
  ['difference to step before (ΔE00)', ({ step }) => step.deltaEToPrevious],
  ['u (L*)', ({ step }) => step.uL],
  ['u from step (L*)', ({ step }) => step.budget.step],
  ['u from card (L*)', ({ step }) => step.budget.card],
  ['u from table light (L*)', ({ step }) => step.budget.illumination],
  ['u from camera tone (L*)', ({ step }) => step.budget.tone],
  ['unevenness (L*)', ({ step }) => step.unevennessL],
  ['clipped pixels (%)', ({ step }) => 100 * step.clippedShare],
  ['tiles used', ({ step }) => step.tilesUsed],
  ['tiles left out', ({ step }) => step.tilesDropped],
  ['verdict', ({ step }) => step.verdict],
  ['reason', ({ step }) => step.reason],
  ['method version', ({ reading }) => reading.methodVersion],
];

/** A reading's steps as a table for a spreadsheet: one row a step, in rising exposure; u is one standard uncertainty. */
export const stepsCsv = (reading: Reading): string => {
  const exposed = reading.steps.filter((step) => step.seconds > 0).map((step) => step.seconds);
  const shortestSeconds = exposed.length === 0 ? null : Math.min(...exposed);
  const first = reading.steps[0]?.seconds === 0 ? 0 : 1;
  return csvText(
    COLUMNS,
    reading.steps.map((step, i) => ({ reading, step, number: i + first, shortestSeconds })),
  );
};
