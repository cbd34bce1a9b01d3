import type { Layout, Move } from '../../analysis/plan/covers.ts';
import type { LightKind } from '../../analysis/plan/start.ts';

/** A planned strip as the clock needs it. Plain data: it outlives the page. */
export interface RunPlan {
  readonly dye: string;
  readonly cloth: string;
  readonly light: string;
  readonly lightKind: LightKind;
  readonly layout: Layout;
  /** The light goes off at every move and is switched on again by hand. */
  readonly stopsAtMoves: boolean;
  readonly lampSeconds: number;
  /** Move 0 is the light going on, the last one the light going off; the clock runs only while the light burns. */
  readonly moves: readonly Pick<Move, 'atSeconds' | 'action' | 'step'>[];
  /** Steps that are lit between move k and move k + 1. */
  readonly lit: readonly (readonly number[])[];
  readonly steps: readonly { readonly step: number; readonly seconds: number }[];
}

/** What happened, in the order of the wall clock (`at`, in ms of the epoch). */
export type RunEvent =
  | { readonly kind: 'on'; readonly at: number }
  | { readonly kind: 'off'; readonly at: number }
  /** The page announced this move on time, and somebody was there to hear or see it. */
  | { readonly kind: 'told'; readonly move: number; readonly at: number }
  /** Somebody says that the move was made now. */
  | { readonly kind: 'made'; readonly move: number; readonly at: number }
  /** Somebody says afterwards that the move was made when it was due. */
  | { readonly kind: 'on-time'; readonly move: number; readonly at: number };

export interface Run {
  readonly plan: RunPlan;
  /** A move counts as made when it is announced; else it waits for a tap. */
  readonly handsFree: boolean;
  readonly events: readonly RunEvent[];
}

export type MoveState = 'coming' | 'told' | 'missed' | 'made';

export interface MoveStatus {
  readonly dueSeconds: number;
  readonly state: MoveState;
  /** Reading of the lamp clock at which it was made; null while it was not. */
  readonly madeSeconds: number | null;
  /** How it came to count as made. */
  readonly by: 'tap' | 'announcement' | 'word' | null;
}

export interface StepExposure {
  readonly step: number;
  readonly plannedSeconds: number;
  readonly realSeconds: number;
}

export interface RunStatus {
  readonly phase: 'ready' | 'lit' | 'dark' | 'done';
  /** How long the light has burned so far. */
  readonly lampSeconds: number;
  readonly moves: readonly MoveStatus[];
  /** The first move that is not made; null when all are. */
  readonly next: number | null;
  readonly exposures: readonly StepExposure[];
  /** Steps in the light, as far as moves were made. */
  readonly open: readonly number[];
}

/** Stretches of the wall clock in which the light burned, ms; the last one may be open. */
const stretches = (events: readonly RunEvent[], now: number): readonly (readonly [number, number])[] => {
  const found: [number, number][] = [];
  let since: number | null = null;
  for (const event of events) {
    if (event.kind === 'on' && since === null) since = event.at;
    if (event.kind === 'off' && since !== null) {
      found.push([since, Math.max(since, event.at)]);
      since = null;
    }
  }
  if (since !== null) found.push([since, Math.max(since, now)]);
  return found;
};

/** Reading of the lamp clock, in seconds, at a moment of the wall clock. */
export const lampAt = (events: readonly RunEvent[], at: number): number =>
  stretches(events, at).reduce((sum, [from, to]) => sum + Math.max(0, Math.min(to, at) - from), 0) / 1000;

/** When the lamp clock reads so much, if the light goes on burning; null while it does not burn. */
export const momentOf = (events: readonly RunEvent[], lampSeconds: number, now: number): number | null => {
  let before = 0;
  const all = stretches(events, now);
  for (const [from, to] of all) {
    const seconds = (to - from) / 1000;
    if (before + seconds >= lampSeconds) return from + (lampSeconds - before) * 1000;
    before += seconds;
  }
  return isLit(events) ? now + (lampSeconds - before) * 1000 : null;
};

export const isLit = (events: readonly RunEvent[]): boolean => {
  const switches = events.filter(({ kind }) => kind === 'on' || kind === 'off');
  return switches.length > 0 && switches[switches.length - 1].kind === 'on';
};

const madeBy = ({ plan, handsFree, events }: Run, move: number): Pick<MoveStatus, 'madeSeconds' | 'by'> => {
  const due = plan.moves[move].atSeconds;
  const said = events.findLast(
    (event) => (event.kind === 'made' || event.kind === 'on-time') && event.move === move,
  );
  if (said?.kind === 'made') return { madeSeconds: lampAt(events, said.at), by: 'tap' };
  if (said?.kind === 'on-time') return { madeSeconds: due, by: 'word' };
  const told = events.some((event) => event.kind === 'told' && event.move === move);
  // Where the light goes off for it, a move is over when the light goes on again.
  const counts = handsFree || (plan.stopsAtMoves && move < plan.moves.length - 1);
  return counts && told ? { madeSeconds: due, by: 'announcement' } : { madeSeconds: null, by: null };
};

/**
 * Where a strip stands at a moment of the wall clock: worked out from what happened alone, so that it holds after a
 * reload, a locked phone or a flat battery. What a step really got follows from the moves as they were made; a move that
 * was not made yet goes on adding light.
 */
export const statusOf = (run: Run, now: number): RunStatus => {
  const { plan, events } = run;
  const lampSeconds = lampAt(events, now);
  const started = events.some(({ kind }) => kind === 'on');
  const last = plan.moves.length - 1;
  const moves = plan.moves.map(({ atSeconds }, i): MoveStatus => {
    if (i === 0)
      return {
        dueSeconds: 0,
        state: started ? 'made' : 'coming',
        madeSeconds: started ? 0 : null,
        by: started ? 'tap' : null,
      };
    const made = madeBy(run, i);
    const told = events.some((event) => event.kind === 'told' && event.move === i);
    const state: MoveState =
      made.madeSeconds !== null ? 'made' : lampSeconds < atSeconds ? 'coming' : told ? 'told' : 'missed';
    return { dueSeconds: atSeconds, state, ...made };
  });
  const done = moves[last].state === 'made';
  const next = moves.findIndex(({ state }) => state !== 'made');

  // Boundaries on the lamp clock; what is not made yet lies at the end of the light so far.
  let before = 0;
  const bounds = moves.map(({ madeSeconds }) => {
    before = Math.max(
      before,
      Math.min(madeSeconds ?? lampSeconds, done ? Number.POSITIVE_INFINITY : lampSeconds),
    );
    return before;
  });
  const exposures = plan.steps.map(({ step, seconds }) => ({
    step,
    plannedSeconds: seconds,
    realSeconds: plan.lit.reduce(
      (sum, lit, k) => sum + (lit.includes(step) ? bounds[k + 1] - bounds[k] : 0),
      0,
    ),
  }));
  const stage = (next === -1 ? plan.moves.length : next) - 1;
  const lit = isLit(events) && !done;
  return {
    phase: done ? 'done' : !started ? 'ready' : lit ? 'lit' : 'dark',
    lampSeconds,
    moves,
    next: next === -1 ? null : next,
    exposures,
    open: stage >= 0 && stage < plan.lit.length ? plan.lit[stage] : [],
  };
};

/** Adds to the log what a page that is awake sees: moves that fell due since it last looked. */
export const announced = (run: Run, lookedAt: number, now: number): Run => {
  if (!isLit(run.events)) return run;
  const { moves } = run.plan;
  const from = lampAt(run.events, lookedAt);
  const to = lampAt(run.events, now);
  const events: RunEvent[] = [...run.events];
  for (let move = 1; move < moves.length; move++) {
    const due = moves[move].atSeconds;
    if (due <= from || due > to) continue;
    if (events.some((event) => 'move' in event && event.move === move)) continue;
    const at = momentOf(run.events, due, now) ?? now;
    events.push({ kind: 'told', move, at });
    if (move < moves.length - 1 && run.plan.stopsAtMoves) {
      events.push({ kind: 'off', at });
      break;
    }
    if (move === moves.length - 1 && run.handsFree) events.push({ kind: 'off', at });
  }
  return events.length === run.events.length ? run : { ...run, events };
};

/** Is this something that a person tapped, and can take back? */
const isTap = (event: RunEvent): boolean => event.kind !== 'told';

/** The last tap, where there is one to take back. */
export const lastTap = ({ events }: Run): RunEvent | null => events.findLast(isTap) ?? null;

/**
 * The run without its last tap. What the page announced stays announced, but for the end of the light taken back, which
 * is asked for again.
 */
export const withoutLastTap = (run: Run): Run => {
  const at = run.events.findLastIndex(isTap);
  if (at < 0) return run;
  const end = run.plan.moves.length - 1;
  const undone = run.events[at];
  const events = run.events.filter(
    (event, i) =>
      i !== at && !(undone.kind === 'off' && event.kind === 'told' && event.move === end && run.handsFree),
  );
  return { ...run, events: events.some(({ kind }) => kind === 'on') ? events : [] };
};

/** Adds one event. A tap that ends the strip also switches the light off. */
export const withEvent = (run: Run, event: RunEvent): Run => {
  const events = [...run.events, event];
  const end = run.plan.moves.length - 1;
  if ((event.kind === 'made' || event.kind === 'on-time') && event.move === end && isLit(events)) {
    const due = momentOf(events, run.plan.moves[end].atSeconds, event.at) ?? event.at;
    events.splice(events.length - 1, 0, {
      kind: 'off',
      at: event.kind === 'on-time' ? Math.min(event.at, due) : event.at,
    });
  }
  return { ...run, events };
};
