import { AnalysisError, type Warning } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { CAUTIONS, type Caution } from './cautions.ts';
import { type Burst, coverMoves, type Layout, type Move, placesAcrossBed } from './covers.ts';
import { type Note, planNotes } from './notes.ts';
import { type LightKind, type PlanStart, wantedSeries } from './start.ts';
import { formatClock, formatStops } from './time.ts';
import { roundToTimer } from './timer.ts';
import { type DyeScale, spacingWarnings, stripWarnings, sunWarnings, timerWarnings } from './warnings.ts';

export interface PlanRequest {
  readonly start: PlanStart;
  readonly light: LightKind;
  readonly layout: Layout;
  /** Does the light burn on while the cover moves? On unless said otherwise. */
  readonly lampDuringMoves?: 'on' | 'off';
  /** Smallest change of the timer, 1 s unless said otherwise. */
  readonly timerStepSeconds?: number;
  /** An unexposed step; there unless said otherwise. */
  readonly base?: boolean;
  /** What is known of the dye. */
  readonly dye?: DyeScale | null;
  /** Expected standard uncertainty of a step's L*; 0.5 unless said otherwise. */
  readonly uL?: number;
  /** Stands on the labels. */
  readonly name?: string;
}

export interface PlanStep {
  /** 0 is the base. */
  readonly step: number;
  /** The exposure as the timer sets it. */
  readonly seconds: number;
  /** The exposure that the series asked for. */
  readonly wantedSeconds: number;
  /** Stops above the shortest exposed step, from the times as set; null for the base. */
  readonly stopsAboveShortest: number | null;
  readonly clock: string;
  /** Text to write beside the step. */
  readonly label: string;
}

/** A strip to make: what to set, when to move, what to write, what to mind. Plain data. */
export interface StripPlan {
  readonly steps: readonly PlanStep[];
  readonly layout: Layout;
  readonly moves: readonly Move[];
  readonly bursts: readonly Burst[];
  readonly lampSeconds: number;
  /** Step numbers in the order of their places on the bed; null where the order is free. */
  readonly places: readonly number[] | null;
  readonly reason: string;
  readonly warnings: readonly Warning[];
  readonly notes: readonly Note[];
  readonly cautions: readonly Caution[];
}

/**
 * How do I make the next test strip: which times, when does the cover move, how long does the lamp burn, what do I write
 * beside the steps? Times are rounded to the timer first, and everything stated after that is true of the rounded times.
 *
 * @throws AnalysisError `plan-invalid`, with what to change, for input that no strip can be made of.
 * @see method.md §9; [domain-1.14], [domain-1.19], [domain-6.1], [domain-6.2]
 * @example planStrip({ start: { kind: 'nothing' }, light: 'tubes', layout: { kind: 'strip', direction: 'covering' } }).lampSeconds // 1920
 */
export function planStrip(request: PlanRequest): StripPlan {
  const uL = request.uL ?? 0.5;
  if (!(uL > 0 && uL <= 20)) {
    throw new AnalysisError(
      'plan-invalid',
      `An uncertainty of ${uL} L* is not usable. Give a number above 0, such as 0.5.`,
      { phrase: phrase('plan-u-unfit', { uL }) },
    );
  }
  const dye = request.dye ?? null;
  const wanted = wantedSeries(request.start, request.light);
  const timerStep = request.timerStepSeconds ?? 1;
  const all = wanted.seconds;
  const timed = setOnTimer(all, timerStep);
  const times = timed.map((step) => step.seconds);
  if (times.length < 2) {
    throw new AnalysisError(
      'plan-invalid',
      times.length < all.length
        ? `With a timer step of ${timerStep} s all steps fall on the same setting. Start longer or use a finer timer.`
        : 'One exposed step makes no curve. Plan at least two; six or seven make a good first strip.',
      {
        phrase:
          times.length < all.length ? phrase('plan-one-setting', { timerStep }) : phrase('plan-one-step', {}),
      },
    );
  }
  const base = request.base ?? true;
  const { moves, bursts, lampSeconds } = coverMoves(times, request.layout, base);
  const lampDuringMoves = request.lampDuringMoves ?? 'on';
  const together = request.layout.kind === 'scraps' && request.layout.exposed === 'together';
  const inTurn = request.layout.kind === 'scraps' && !together;
  return {
    steps: [...(base ? [baseStep(request.name)] : []), ...labelled(timed, request.name)],
    layout: request.layout,
    moves,
    bursts,
    lampSeconds,
    places: together ? placesAcrossBed(times.length) : null,
    reason: wanted.reason,
    warnings: [
      ...wanted.warnings,
      ...spacingWarnings(times, dye, uL),
      ...timerWarnings(timed, all.length - timed.length, timerStep),
      ...stripWarnings(times, {
        first: wanted.first,
        base,
        gapSeconds:
          inTurn || lampDuringMoves === 'off' ? null : Math.min(...bursts.map((burst) => burst.seconds)),
        dye,
      }),
      ...(request.light === 'sun' ? sunWarnings(lampSeconds) : []),
    ],
    notes: planNotes(request.light, request.layout, lampDuringMoves, times.length),
    cautions: CAUTIONS,
  };
}

/** A label says 1 stop where the timer's rounding left 0.98. */
const LABEL_STOPS = 0.03;

interface TimedStep {
  readonly seconds: number;
  readonly wantedSeconds: number;
}

function setOnTimer(wantedSeconds: readonly number[], timerStepSeconds: number): TimedStep[] {
  const timed: TimedStep[] = [];
  for (const wanted of wantedSeconds) {
    const seconds = roundToTimer(wanted, timerStepSeconds);
    if (seconds !== timed.at(-1)?.seconds) timed.push({ seconds, wantedSeconds: wanted });
  }
  return timed;
}

function baseStep(name: string | undefined): PlanStep {
  return {
    step: 0,
    seconds: 0,
    wantedSeconds: 0,
    stopsAboveShortest: null,
    clock: formatClock(0),
    label: [name, '0', 'base'].filter(Boolean).join(' · '),
  };
}

function labelled(timed: readonly TimedStep[], name: string | undefined): PlanStep[] {
  return timed.map(({ seconds, wantedSeconds }, i) => {
    const stops = Math.log2(seconds / timed[0].seconds);
    const clock = formatClock(seconds);
    const above = i === 0 ? undefined : `+${formatStops(stops, LABEL_STOPS)}`;
    return {
      step: i + 1,
      seconds,
      wantedSeconds,
      stopsAboveShortest: stops,
      clock,
      label: [name, String(i + 1), clock, above].filter(Boolean).join(' · '),
    };
  });
}
