import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';
import { formatClock } from './time.ts';

/** How the steps lie and get their light. */
export type Layout =
  /** One piece of cloth. Covering: the cover advances from the short end. Uncovering: it draws back from the long end. */
  | { readonly kind: 'strip'; readonly direction: 'covering' | 'uncovering' }
  /** Separate scraps. Together: all under the lamp at once, each taken out at its time. In turn: one after another. */
  | { readonly kind: 'scraps'; readonly exposed: 'together' | 'in-turn' };

/** One stretch of lamp time and the steps that are lit in it; step 0 is the base and is never lit. */
export interface Burst {
  readonly startSeconds: number;
  readonly seconds: number;
  readonly litSteps: readonly number[];
}

/** One thing to do with the hands, at a reading of the lamp clock (which runs only while the lamp is lit). */
export interface Move {
  readonly atSeconds: number;
  readonly clock: string;
  readonly action: 'lamp-on' | 'cover' | 'uncover' | 'take-out' | 'change-scrap' | 'lamp-off';
  /** The step that the hands deal with; null for the lamp alone. */
  readonly step: number | null;
  readonly text: string;
}

export interface Covers {
  readonly moves: readonly Move[];
  readonly bursts: readonly Burst[];
  /** Lamp time of the whole strip. */
  readonly lampSeconds: number;
}

/**
 * When does the cover move, and how long does the lamp burn? For exposures that add up while the cover moves; every
 * step ends up with its own time whichever way the cover goes.
 *
 * @param stepSeconds exposures of steps 1, 2, … in seconds, strictly rising, already rounded to the timer; step 0 is the
 *   base and stays covered.
 * @param layout one strip (either direction) or scraps (together or in turn).
 * @param base whether there is an unexposed piece to keep covered.
 * @returns moves with clock times, the bursts between them and the lamp time: the longest step's, or for scraps in turn
 *   the sum of all.
 * @throws AnalysisError `plan-invalid` when times are not positive and rising.
 * @see [domain-1.15], [domain-1.19]
 * @example coverMoves([60, 120], { kind: 'strip', direction: 'uncovering' }).moves[1]?.clock // "01:00"
 */
export function coverMoves(stepSeconds: readonly number[], layout: Layout, base = true): Covers {
  if (
    stepSeconds.length === 0 ||
    !stepSeconds.every((t, i) => Number.isFinite(t) && t > (stepSeconds[i - 1] ?? 0))
  ) {
    throw new AnalysisError(
      'plan-invalid',
      'Give the step times in seconds, each longer than the one before.',
      { phrase: phrase('plan-times-unfit', {}) },
    );
  }
  if (layout.kind === 'scraps' && layout.exposed === 'in-turn') return inTurn(stepSeconds);
  if (layout.kind === 'strip' && layout.direction === 'uncovering') return uncovering(stepSeconds, base);
  return covering(stepSeconds, layout.kind === 'strip' ? 'cover' : 'take-out', base);
}

function covering(stepSeconds: readonly number[], action: 'cover' | 'take-out', base: boolean): Covers {
  const count = stepSeconds.length;
  const last = stepSeconds[count - 1];
  const bursts = stepSeconds.map((time, i) => {
    const start = stepSeconds[i - 1] ?? 0;
    return { startSeconds: start, seconds: tidy(time - start), litSteps: range(i + 1, count) };
  });
  const moves = [
    move(
      0,
      'lamp-on',
      null,
      action === 'cover'
        ? `${base ? 'Base covered, all' : 'All'} steps open: light on.`
        : `All scraps under the lamp${base ? ', base left out' : ''}: light on.`,
    ),
    ...stepSeconds
      .slice(0, -1)
      .map((time, i) =>
        move(
          time,
          action,
          i + 1,
          action === 'cover'
            ? `Slide the cover over step ${i + 1}.`
            : `Take out scrap ${i + 1} and put it in the dark.`,
        ),
      ),
    move(last, 'lamp-off', count, `Light off: ${action === 'cover' ? 'step' : 'scrap'} ${count} is done.`),
  ];
  return { moves, bursts, lampSeconds: last };
}

function uncovering(stepSeconds: readonly number[], base: boolean): Covers {
  const count = stepSeconds.length;
  const last = stepSeconds[count - 1];
  // Longest first: step i joins when as much time is left as it needs.
  const joinAt = stepSeconds.map((time) => tidy(last - time));
  const bursts = stepSeconds
    .map((time, i) => {
      const shorter = stepSeconds[i - 1] ?? 0;
      return { startSeconds: joinAt[i], seconds: tidy(time - shorter), litSteps: range(i + 1, count) };
    })
    .reverse();
  const moves = [
    move(0, 'lamp-on', count, `Only step ${count} open, the rest covered: light on.`),
    ...range(1, count - 1)
      .reverse()
      .map((step) => move(joinAt[step - 1], 'uncover', step, `Draw the cover back to open step ${step}.`)),
    move(last, 'lamp-off', null, `Light off: all steps are done${base ? ', the base stayed covered' : ''}.`),
  ];
  return { moves, bursts, lampSeconds: last };
}

function inTurn(stepSeconds: readonly number[]): Covers {
  const bursts: Burst[] = [];
  const moves: Move[] = [];
  let clock = 0;
  stepSeconds.forEach((time, i) => {
    const text =
      i === 0
        ? 'Scrap 1 under the lamp: light on.'
        : `Change to scrap ${i + 1}, same place: ${formatClock(time)} more.`;
    moves.push(move(clock, i === 0 ? 'lamp-on' : 'change-scrap', i + 1, text));
    bursts.push({ startSeconds: clock, seconds: time, litSteps: [i + 1] });
    clock = tidy(clock + time);
  });
  moves.push(move(clock, 'lamp-off', stepSeconds.length, `Light off: scrap ${stepSeconds.length} is done.`));
  return { moves, bursts, lampSeconds: clock };
}

function move(atSeconds: number, action: Move['action'], step: number | null, text: string): Move {
  return { atSeconds, clock: formatClock(atSeconds), action, step, text };
}

/**
 * In which places do scraps lie when all are exposed together, so that an uneven lamp does not pass for exposure? Short
 * and long alternate along the bed.
 *
 * @param count scraps.
 * @returns step numbers in the order of their places.
 * @see [domain-6.10]
 * @example placesAcrossBed(5) // [1, 5, 2, 4, 3]
 */
export function placesAcrossBed(count: number): number[] {
  return range(1, count).map((place) => (place % 2 === 1 ? (place + 1) / 2 : count + 1 - place / 2));
}

function range(from: number, to: number): number[] {
  return Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);
}

function tidy(seconds: number): number {
  return Number(seconds.toPrecision(12));
}
