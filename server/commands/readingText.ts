import type { Advice, Verdict } from '../../analysis/advice/advice.ts';
import { clock } from '../../analysis/advice/settable.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import type { Reading } from '../../analysis/reading.ts';
import { columns } from './columns.ts';
import { wrapped } from './wrapped.ts';

const BAR_WIDTH = 24;

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  'washed-out': 'washed out',
  building: 'building',
  'full-depth': 'full depth',
  overexposed: 'overexposed',
};

/** Longer for darker: how much of the way from white to black this step has gone. */
const bar = (L: number): string => {
  const filled = Math.round((BAR_WIDTH * (100 - Math.min(100, Math.max(0, L)))) / 100);
  return '█'.repeat(filled).padEnd(BAR_WIDTH, '·');
};

const stepTable = (steps: Reading['steps']): string[] =>
  columns(
    [
      ['step', 'darkness', 'L*', '± u', 'verdict'],
      ...steps.map((s) => [
        s.seconds === 0 ? 'base' : formatClock(s.seconds),
        bar(s.L),
        s.L.toFixed(1),
        s.uL.toFixed(1),
        VERDICT_WORDS[s.verdict],
      ]),
    ],
    ['right', 'left', 'right', 'right', 'left'],
  );

/** The answer in one line: a setting of the timer, and the interval in whole seconds. */
const answerLine = ({ roundedSeconds, low, high, highOpen }: Advice): string[] => {
  if (roundedSeconds === null || low === null || high === null) return [];
  const interval = highOpen ? `${clock(low)} or longer` : `${clock(low)} to ${clock(high)}`;
  return [`Expose ${formatClock(roundedSeconds)}   (90 % interval ${interval})`];
};

const nextStripLines = ({ nextStrip }: Advice): string[] => {
  if (!nextStrip) return [];
  const times = nextStrip.seconds.map((s) => (s === 0 ? 'base' : formatClock(s))).join(', ');
  const { expectedWidthStops: alone, expectedTogetherStops: together } = nextStrip;
  const expected =
    alone === null
      ? ''
      : ` It should leave an interval of ${alone.toFixed(2)} stop${together === null ? '' : `, ${together.toFixed(2)} together with this strip`}.`;
  return [wrapped(`Next strip: ${times}.${expected}`)];
};

const doubtsMarks = ({ code }: Reading['warnings'][number]): boolean => code === 'marks-uncertain';

/** A reading for a person at a terminal: a bar and a verdict per step, then the answer. */
export const readingText = (reading: Reading): string => {
  const { strip, steps, curve, advice, illumination, repeatability, warnings } = reading;
  const title = [strip.dye, strip.cloth, strip.light].filter(Boolean).join(' · ') || 'Test strip';
  const lines = [
    wrapped(title),
    '',
    ...stepTable(steps),
    '',
    // A doubt about the marks is a doubt about the answer: it comes first.
    ...warnings.filter(doubtsMarks).flatMap((w) => [wrapped(`Note: ${w.message}`), '']),
    ...answerLine(advice),
    wrapped(advice.sentence),
    ...nextStripLines(advice),
    '',
    ...(curve.kind === 'fitted' ? [curve.curve.reason, ...curve.curve.remarks] : []).map((sentence) =>
      wrapped(`Curve: ${sentence}`),
    ),
    wrapped(`Light: ${illumination.reason}.`),
    ...(repeatability
      ? [
          wrapped(
            `Photos: ${repeatability.photos} of this strip differ by ${repeatability.measuredL.toFixed(1)} L* (one standard deviation; ${repeatability.expectedL.toFixed(1)} expected).`,
          ),
        ]
      : []),
    ...warnings.filter((w) => !doubtsMarks(w)).map((w) => wrapped(`Note: ${w.message}`)),
    '',
    wrapped('A starting point measured from one photo: test on a scrap before an expensive piece.'),
  ];
  return `${lines.join('\n')}\n`;
};
