import { equalStopSeries, equalTimeSeries } from '../analysis/plan/series.ts';
import { roundToTimer } from '../analysis/plan/timer.ts';

/** How the steps of a new strip follow each other. */
export type Spacing = 'whole-stop' | 'half-stop' | 'third-stop' | 'equal-times';

const STOPS_PER_STEP: Readonly<Record<Exclude<Spacing, 'equal-times'>, number>> = {
  'whole-stop': 1,
  'half-stop': 1 / 2,
  'third-stop': 1 / 3,
};

/**
 * Times for a strip: `count` exposed steps from `firstSeconds` on, rounded to whole seconds (tenths below ten), the
 * unexposed base first where wanted. Equal times are multiples of the first.
 * @throws AnalysisError `plan-invalid`, as the planner has it.
 */
export const seriesOf = (
  firstSeconds: number,
  spacing: Spacing,
  count: number,
  withBase: boolean,
): readonly number[] => {
  const exposed =
    spacing === 'equal-times'
      ? equalTimeSeries(firstSeconds, firstSeconds, count)
      : equalStopSeries(firstSeconds, STOPS_PER_STEP[spacing], count);
  const timed = exposed.map((seconds) => roundToTimer(seconds, seconds < 10 ? 0.1 : 1));
  return withBase ? [0, ...timed] : timed;
};
