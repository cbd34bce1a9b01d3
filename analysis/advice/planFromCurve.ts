import { type BootstrapSet, bootstrapCurve } from '../curve/bootstrap.ts';
import type { Curve } from '../curve/curve.ts';
import { AnalysisError, type Warning } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { type PlanRequest, planStrip, type StripPlan } from '../plan/plan.ts';
import { ASSUMED_SCALE_STOPS, type PlanStart, roughClock } from '../plan/start.ts';
import { formatStops } from '../plan/time.ts';
import { separableStops } from '../plan/warnings.ts';
import type { Target } from './advice.ts';
import { statusOf } from './advise.ts';
import { nextStripFor } from './nextStrip.ts';
import { targetWords, unattainableSentence } from './sentence.ts';
import { checkTarget, type TargetOnCurve, targetOnCurve, targetSeconds } from './target.ts';

/** An earlier curve of this dye on this cloth, the depth wanted, and how the hands go about the strip. */
export interface CurvePlanRequest extends Omit<PlanRequest, 'start' | 'dye'> {
  readonly curve: Curve;
  /** The curves that the interval was taken from; drawn with `seed` where missing. */
  readonly set?: BootstrapSet;
  /** 1 unless said otherwise, as a reading has it. */
  readonly seed?: number;
  readonly target: Target;
  /** By how many stops today's light works faster (+) or slower (−) than the curve's. */
  readonly shiftStops?: number;
  /** Either of these asks for an even series around the target in place of the strip that tells most. */
  readonly stopsPerStep?: number;
  readonly count?: number;
}

const USUAL_STOPS = [1 / 6, 1 / 4, 1 / 3, 1 / 2, 1] as const;
const USUAL_COUNT = 5;
const SPACING: readonly string[] = ['steps-too-coarse', 'steps-too-fine'];

/**
 * Which strip do I make next, now that I have a curve? The one that the reading itself advises for this target
 * (`nextStripFor`), laid out with moves, labels and lamp time; or, where spacing or count is given, an even series around
 * the target's time. Under a light that works faster or slower all times are restated by the shift.
 *
 * A target deeper than the dye goes is planned around full depth, with a warning.
 *
 * @throws AnalysisError `target-invalid`; `plan-invalid` for a target lighter than the cloth, a shift beyond 10 stops, and
 *   what `planStrip` refuses.
 * @see method.md §8, [domain-6.8]
 */
export function planFromCurve(request: CurvePlanRequest): StripPlan {
  const { curve, target: asked, shiftStops: shift = 0 } = request;
  checkTarget(asked);
  if (!(Math.abs(shift) <= 10)) {
    throw new AnalysisError(
      'plan-invalid',
      `A shift of ${shift} stops is not usable. Give −10 to 10 stops.`,
      { phrase: phrase('plan-shift-unfit', { stops: shift, most: 10 }) },
    );
  }
  const { target, warnings } = attainable(curve, asked);
  const onCurve = targetOnCurve(curve, target);
  const series = seriesFor(request, target, onCurve, 2 ** -shift);
  const made = planStrip({ ...request, start: series.start, dye: curve });
  return {
    ...made,
    reason: series.reason,
    warnings: [
      ...warnings,
      ...series.warnings,
      // The strip that tells most has steps close together and one set apart, on purpose.
      ...made.warnings.filter(({ code }) => !(series.chosen && SPACING.includes(code))),
    ],
  };
}

/** The target, or full depth where this dye never gets there. */
function attainable(
  curve: Curve,
  asked: Target,
): { readonly target: Target; readonly warnings: readonly Warning[] } {
  const onCurve = targetOnCurve(curve, asked);
  const seconds = targetSeconds(curve.shape, asked, onCurve);
  if (statusOf(curve, asked, onCurve.L, seconds) !== 'unattainable') return { target: asked, warnings: [] };
  const why = unattainableSentence(curve, asked, targetWords(asked, onCurve.L), onCurve.L);
  if (onCurve.L > curve.baseL)
    throw new AnalysisError('plan-invalid', `${why} Choose a darker target.`, {
      phrase: phrase('plan-target-paler', { targetL: onCurve.L, baseL: curve.baseL }),
    });
  return {
    target: { kind: 'full' },
    warnings: [
      {
        code: 'target-unattainable',
        message: `${why} The strip is planned around full depth instead.`,
        phrase: phrase('plan-target-deeper', {
          percent: asked.kind === 'depth' ? asked.percent : null,
          targetL: onCurve.L,
          deepestL: curve.deepestL,
          range: curve.deepestU === null ? null : 1.645 * curve.deepestU,
        }),
      },
    ],
  };
}

interface CurveSeries {
  readonly start: PlanStart;
  readonly reason: string;
  readonly warnings: readonly Warning[];
  /** Chosen for what it tells, not laid evenly. */
  readonly chosen: boolean;
}

function seriesFor(
  request: CurvePlanRequest,
  target: Target,
  onCurve: TargetOnCurve,
  factor: number,
): CurveSeries {
  const shifted =
    factor === 1 ? '' : ` All times are restated for a light ${formatStops(Math.abs(Math.log2(factor)))}`;
  const restated = shifted && `${shifted} ${factor > 1 ? 'slower' : 'faster'}.`;
  const words = targetWords(target, onCurve.L);
  if (request.stopsPerStep !== undefined || request.count !== undefined)
    return evenSeries(request, target, onCurve, factor, words, restated);
  const set =
    request.set ?? bootstrapCurve(request.curve, request.seed === undefined ? {} : { seed: request.seed });
  const next = nextStripFor(request.curve, target, onCurve, set, request.timerStepSeconds);
  const times = next.seconds.filter((time) => time > 0);
  const width =
    next.expectedTogetherStops === null
      ? ''
      : ` Together with the strip so far it should leave an interval of ${next.expectedTogetherStops.toFixed(2)} stop.`;
  return {
    start: { kind: 'times', seconds: times.map((time) => time * factor) },
    reason: `The strip that tells most about ${words}: ${times.length} steps from ${roughClock(times[0] * factor)} to ${roughClock(times[times.length - 1] * factor)}.${width}${restated}`,
    warnings: [],
    chosen: true,
  };
}

function evenSeries(
  { curve, stopsPerStep, count, uL = 0.5 }: CurvePlanRequest,
  target: Target,
  onCurve: TargetOnCurve,
  factor: number,
  words: string,
  restated: string,
): CurveSeries {
  const furthest = 2 * curve.longestSeconds;
  const onShape = targetSeconds(curve.shape, target, onCurve);
  const asFar = onShape > furthest;
  const guess = Math.max(Math.min(onShape, furthest), curve.shortestSeconds / 2);
  const stops = stopsPerStep ?? stopsForScale(curve, uL);
  return {
    start: {
      kind: 'around',
      guessSeconds: guess * factor,
      stopsPerStep: stops,
      count: count ?? USUAL_COUNT,
    },
    reason: `Around ${roughClock(guess * factor)}, ${asFar ? `on the way to ${words}` : `where the earlier curve puts ${words}`}: ${formatStops(stops)} apart.${restated}`,
    warnings: asFar
      ? [
          {
            code: 'target-beyond-curve',
            message: `${Number.isFinite(onShape) ? `The curve puts the target at ${roughClock(onShape)}, more` : 'The curve puts the target more'} than one stop past its longest step of ${roughClock(curve.longestSeconds)}. The strip is planned around ${roughClock(furthest * factor)}; read it before going further.`,
            phrase: phrase('plan-beyond-curve', {
              onCurve: Number.isFinite(onShape) ? onShape : null,
              longest: curve.longestSeconds,
              around: furthest * factor,
            }),
          },
        ]
      : [],
    chosen: false,
  };
}

/** Eight steps over the dye's own scale, and none closer than a reading can tell apart. */
function stopsForScale({ exposureScaleStops, contrastLPerStop }: Curve, uL: number): number {
  const roomy =
    [...USUAL_STOPS].reverse().find((stops) => stops <= (exposureScaleStops ?? ASSUMED_SCALE_STOPS) / 8) ??
    USUAL_STOPS[0];
  const least = separableStops(contrastLPerStop, uL);
  return Math.max(roomy, USUAL_STOPS.find((stops) => stops >= least) ?? 1);
}
