import { AnalysisError } from '../errors.ts';
import { type Phrase, phrase } from '../phrases.ts';
import { type EwmaChart, ewmaChart } from './ewma.ts';
import { type Fading, lampFading } from './fading.ts';
import { type IndividualsChart, individualsChart, PROVISIONAL_FROM } from './individuals.ts';
import type { RunRule } from './runRules.ts';

/** One exposed control scrap. */
export interface ControlRecord {
  /** Shift against the recorded curve in stops; positive where the light works faster. */
  readonly shiftStops: number;
  /**
   * What the scrap has in common with its series: lamp set, glass, cloth, batch, dye, water, phone. A change of this text
   * starts a new baseline.
   */
  readonly setup: string;
  readonly lampHours?: number;
}

export type DriftReport =
  | {
      readonly kind: 'gathering';
      readonly count: number;
      readonly needed: number;
      readonly sentence: string;
      readonly phrase?: Phrase;
    }
  | {
      readonly kind: 'chart';
      /** Position, in all records, of the first of the present setup. */
      readonly from: number;
      readonly individuals: IndividualsChart;
      readonly ewma: EwmaChart;
      readonly fading: Fading | null;
      /** `jump`: the newest scrap alone is out. `drifting`: a lasting change. */
      readonly verdict: 'steady' | 'drifting' | 'jump';
      /** Where the light stands now against the baseline's mean, in stops, as the moving average sees it. */
      readonly levelStops: number;
      /** Multiply times of the baseline by this. 1 while nothing is called a change. */
      readonly timeFactor: number;
      readonly findings: readonly DriftFinding[];
      readonly sentence: string;
      readonly phrase?: Phrase;
    };

/** One pattern in the chart, told once at the scrap where it first shows. */
export interface DriftFinding {
  readonly code: RunRule | 'moving-average' | 'moving-range';
  /** Position in all records. */
  readonly index: number;
  readonly text: string;
}

/**
 * Has my lamp faded, or anything else changed, since the baseline? Charts the control scrap's shift: single values with
 * moving range and run rules for sudden changes, a moving average for slow ones. Counts only the scraps since the last
 * change of setup. Below 8 scraps nothing is charted; from 8 on the limits are provisional, from 20 on they stay.
 *
 * @param records in the order of time.
 * @throws AnalysisError `comparison-invalid` where a shift is not finite.
 * @see method.md §9, [NIST-6.3.2.2], [NIST-6.3.2.4], [domain-6.11], [domain-6.12], [domain-6.13], [domain-6.15], [domain-6.17]
 * @example readDrift([]).kind // "gathering"
 */
export function readDrift(records: readonly ControlRecord[]): DriftReport {
  if (!records.every((record) => Number.isFinite(record.shiftStops))) {
    throw new AnalysisError(
      'comparison-invalid',
      'Every control scrap needs a shift in stops. Leave out the others.',
      { phrase: phrase('shift-missing', {}) },
    );
  }
  const from = startOfSetup(records);
  const present = records.slice(from);
  if (present.length < PROVISIONAL_FROM) return gathering(present.length, from > 0);
  const shifts = present.map((record) => record.shiftStops);
  const individuals = individualsChart(shifts);
  const { mean, sigma } = individuals;
  const ewma = ewmaChart(shifts, { target: mean, sigma });
  const timed = present.flatMap(({ lampHours, shiftStops }) =>
    lampHours === undefined ? [] : [{ hours: lampHours, shiftStops }],
  );
  const fading = lampFading(timed);
  const last = shifts.length - 1;
  const verdict = verdictOf(individuals, ewma, last);
  const levelStops = ewma.averages[last] - mean;
  const timeFactor = verdict === 'drifting' ? 2 ** -levelStops : 1;
  return {
    kind: 'chart',
    from,
    individuals,
    ewma,
    fading,
    verdict,
    levelStops,
    timeFactor,
    findings: findings(individuals, ewma, from),
    sentence: [
      VERDICT_TEXT[verdict](levelStops, timeFactor, shifts[last] - mean),
      individuals.state === 'provisional' ? `Limits are provisional: ${shifts.length} of 20 scraps.` : '',
      fadingText(fading),
    ]
      .filter(Boolean)
      .join(' '),
    phrase: phrase('together', {
      parts: [
        verdictPhrase(verdict, levelStops, timeFactor, shifts[last] - mean),
        ...(individuals.state === 'provisional'
          ? [phrase('drift-provisional', { count: shifts.length })]
          : []),
        ...fadingPhrase(fading),
      ],
    }),
  };
}

/** One value far out pulls the moving average along; that alone is no lasting change. */
function verdictOf(
  individuals: IndividualsChart,
  ewma: EwmaChart,
  last: number,
): 'steady' | 'drifting' | 'jump' {
  const rules = individuals.signals.filter((signal) => signal.index === last).map((signal) => signal.rule);
  if (rules.some((rule) => rule !== 'beyond-limits')) return 'drifting';
  if (rules.length > 0) return ewma.beyond.includes(last - 1) ? 'drifting' : 'jump';
  return ewma.beyond.includes(last) ? 'drifting' : 'steady';
}

function startOfSetup(records: readonly ControlRecord[]): number {
  const setup = records.at(-1)?.setup;
  return records.findLastIndex((record) => record.setup !== setup) + 1;
}

function gathering(count: number, changed: boolean): DriftReport {
  const why = changed ? 'The setup changed, so a new baseline starts. ' : '';
  const more = PROVISIONAL_FROM - count;
  return {
    kind: 'gathering',
    count,
    needed: PROVISIONAL_FROM,
    sentence: `${why}${count} control scrap${count === 1 ? '' : 's'} so far: ${more} more before a change can be told from chance.`,
    phrase: phrase('drift-gathering', { changed, count, more }),
  };
}

const verdictPhrase = (
  verdict: 'steady' | 'drifting' | 'jump',
  level: number,
  factor: number,
  newest: number,
): Phrase =>
  verdict === 'steady'
    ? phrase('drift-steady', {})
    : verdict === 'drifting'
      ? phrase('drift-drifting', { level, factor })
      : phrase('drift-jump', { newest });

const VERDICT_TEXT = {
  steady: () => 'The light is steady: nothing beyond chance since the baseline.',
  drifting: (level: number, factor: number) =>
    `The light works ${Math.abs(level).toFixed(2)} stop ${level < 0 ? 'slower' : 'faster'} than at the baseline: multiply times by ${factor.toFixed(2)}, and find the cause.`,
  jump: (_level: number, _factor: number, newest: number) =>
    `The newest scrap is ${Math.abs(newest).toFixed(2)} stop ${newest < 0 ? 'slow' : 'fast'}, beyond chance. Repeat it before changing any time.`,
} as const;

function fadingPhrase(fading: Fading | null): Phrase[] {
  if (!fading?.changing) return [];
  const { stopsPer100Hours: rate, low, high } = fading;
  return [phrase('drift-fading', { rate, low, high })];
}

function fadingText(fading: Fading | null): string {
  if (!fading?.changing) return '';
  const { stopsPer100Hours: rate, low, high } = fading;
  // The interval leaves out no change, so both its ends lie on the side of the rate: all three without a sign.
  const [least, most] = [Math.abs(low), Math.abs(high)].sort((a, b) => a - b);
  return `It ${rate < 0 ? 'loses' : 'gains'} ${Math.abs(rate).toFixed(2)} stop per 100 lamp hours (90 %: ${least.toFixed(2)} to ${most.toFixed(2)}).`;
}

const RULE_TEXT: Readonly<Record<RunRule, string>> = {
  'beyond-limits': 'one scrap beyond the limits',
  'two-of-three': 'two of three scraps beyond two standard deviations',
  'four-of-five': 'four of five scraps beyond one standard deviation',
  'eight-on-one-side': 'eight scraps in a row on one side of the mean',
};

function findings(individuals: IndividualsChart, ewma: EwmaChart, from: number): DriftFinding[] {
  const found: DriftFinding[] = individuals.signals
    .filter(
      (signal) =>
        !individuals.signals.some(
          (s) => s.index === signal.index - 1 && s.rule === signal.rule && s.side === signal.side,
        ),
    )
    .map(({ rule, side, index }) => ({
      code: rule,
      index: index + from,
      text: `Scrap ${index + from + 1}: ${RULE_TEXT[rule]}, on the ${side === 'high' ? 'fast' : 'slow'} side.`,
    }));
  for (const index of individuals.rangeSignals) {
    found.push({
      code: 'moving-range',
      index: index + from,
      text: `Scrap ${index + from + 1} differs from the one before by ${individuals.movingRanges[index - 1].toFixed(2)} stop, more than ${individuals.movingRangeUpper.toFixed(2)}.`,
    });
  }
  for (const index of ewma.beyond.filter((i) => !ewma.beyond.includes(i - 1))) {
    found.push({
      code: 'moving-average',
      index: index + from,
      text: `From scrap ${index + from + 1} the moving average is beyond its limits: a lasting change.`,
    });
  }
  return found.sort((a, b) => a.index - b.index);
}
