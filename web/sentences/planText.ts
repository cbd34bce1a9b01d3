import type { PlanStep, StripPlan } from '../../analysis/plan/plan.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { stopsText } from './stopsText.ts';

/** A label says 1 stop where the timer's rounding left 0.97. */
const LABEL_STOPS = 0.03;

/** The series of a plan in one sentence. */
export const seriesText = ({ steps }: StripPlan): string => {
  const exposed = steps.filter(({ seconds }) => seconds > 0);
  const [first, last] = [exposed[0], exposed[exposed.length - 1]].map(({ seconds }) => formatTime(seconds));
  const gaps = exposed.slice(1).map(({ seconds }, i) => Math.log2(seconds / exposed[i].seconds));
  const even = Math.max(...gaps) - Math.min(...gaps) < 2 * LABEL_STOPS;
  const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
  return even
    ? words.plan.evenly(exposed.length, stopsText(mean, LABEL_STOPS), first, last)
    : words.plan.unevenly(exposed.length, first, last);
};

/** What to write beside a step: name, number, time, stops above the shortest. */
export const labelText = ({ step, seconds, stopsAboveShortest }: PlanStep, name: string): string =>
  [
    name,
    String(step),
    seconds === 0 ? words.run.base : formatTime(seconds),
    stopsAboveShortest !== null && stopsAboveShortest > 0 && `+${stopsText(stopsAboveShortest, LABEL_STOPS)}`,
  ]
    .filter(Boolean)
    .join(' · ');

export const stopsAbove = ({ stopsAboveShortest }: PlanStep): string =>
  stopsAboveShortest === null ? '–' : stopsText(stopsAboveShortest, LABEL_STOPS);
