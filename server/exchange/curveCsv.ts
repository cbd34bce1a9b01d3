import type { Curve, Reading } from '../contracts/reading.ts';
import { type CsvColumn, csvText } from './csvText.ts';
import { type CurveSample, curveSamples } from './curveSamples.ts';

interface Row {
  readonly reading: Reading;
  readonly curve: Curve;
  readonly sample: CurveSample;
}

const COLUMNS: readonly CsvColumn<Row>[] = [
  ['dye', ({ reading }) => reading.strip.dye],
  ['cloth', ({ reading }) => reading.strip.cloth],
  ['light', ({ reading }) => reading.strip.light],
  ['curve', ({ curve }) => curve.model],
  ['exposure (s)', ({ sample }) => sample.seconds],
  ['above shortest step (stops)', ({ sample }) => sample.stops],
  ['L*', ({ sample }) => sample.L],
  ['L* low end of 90 % interval', ({ sample }) => sample.lowL],
  ['L* high end of 90 % interval', ({ sample }) => sample.highL],
  ['a*', ({ sample }) => sample.a],
  ['b*', ({ sample }) => sample.b],
  ['depth (%)', ({ sample }) => sample.depthPercent],
  ['within the strip', ({ sample }) => sample.onStrip],
  ['method version', ({ reading }) => reading.methodVersion],
];

/**
 * The fitted curve as a table for a spreadsheet: 12 samples a stop, from no exposure to one stop beyond the longest step.
 *
 * @returns null where the strip gave no curve.
 */
export const curveCsv = (reading: Reading): string | null => {
  if (reading.curve.kind !== 'fitted') return null;
  const { curve } = reading.curve;
  return csvText(
    COLUMNS,
    curveSamples(curve).map((sample) => ({ reading, curve, sample })),
  );
};
