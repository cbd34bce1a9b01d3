import { describe, expect, it } from 'vitest';
import type { Layout } from '../../analysis/plan/covers.ts';
import { planStrip } from '../../analysis/plan/plan.ts';
import {
  announced,
  lampAt,
  lastTap,
  type Run,
  type RunEvent,
  statusOf,
  withEvent,
  withoutLastTap,
} from '../../web/run/runLog.ts';

const START = 1_700_000_000_000;
const at = (seconds: number): number => START + seconds * 1000;

const runOf = (layout: Layout, seconds: readonly number[], stopsAtMoves = false, handsFree = true): Run => {
  const plan = planStrip({ start: { kind: 'times', seconds }, light: 'led', layout });
  return {
    plan: {
      dye: '',
      cloth: '',
      light: '',
      lightKind: 'led',
      layout,
      stopsAtMoves,
      lampSeconds: plan.lampSeconds,
      moves: plan.moves,
      lit: plan.bursts.map(({ litSteps }) => litSteps),
      steps: plan.steps,
    },
    handsFree,
    events: [],
  };
};

const COVERING: Layout = { kind: 'strip', direction: 'covering' };
const UNCOVERING: Layout = { kind: 'strip', direction: 'uncovering' };
const TOGETHER: Layout = { kind: 'scraps', exposed: 'together' };
const IN_TURN: Layout = { kind: 'scraps', exposed: 'in-turn' };

const on = (seconds: number): RunEvent => ({ kind: 'on', at: at(seconds) });
const off = (seconds: number): RunEvent => ({ kind: 'off', at: at(seconds) });
const made = (move: number, seconds: number): RunEvent => ({ kind: 'made', move, at: at(seconds) });

/** Lets a page that is awake look once a second from one moment to another. */
const watch = (run: Run, from: number, to: number): Run => {
  let seen = run;
  for (let s = from; s < to; s++) seen = announced(seen, at(s), at(s + 1));
  return seen;
};

const realOf = (run: Run, seconds: number): readonly number[] =>
  statusOf(run, at(seconds)).exposures.map(({ realSeconds }) => realSeconds);

describe('the lamp clock', () => {
  it('counts only while the light burns: 10 s on, 20 s off, 5 s on are 15 s', () => {
    expect(lampAt([on(0), off(10), on(30)], at(35))).toBe(15);
  });

  it('goes by the wall clock, so an hour without the page is an hour of light', () => {
    expect(lampAt([on(0)], at(3600))).toBe(3600);
  });
});

describe('a strip that is watched to the end', () => {
  it.each([
    ['covering', COVERING],
    ['uncovering', UNCOVERING],
    ['scraps together', TOGETHER],
    ['scraps in turn', IN_TURN],
  ] as const)('gives every step its planned time, %s', (_, layout) => {
    const run = runOf(layout, [60, 120, 240]);
    const ended = watch({ ...run, events: [on(0)] }, 0, 500);
    const status = statusOf(ended, at(500));
    expect(status.phase).toBe('done');
    expect(realOf(ended, 500)).toEqual([0, 60, 120, 240]);
    // The light went off by itself in the log, so waiting adds nothing.
    expect(realOf(ended, 5000)).toEqual([0, 60, 120, 240]);
  });
});

describe('a move made late', () => {
  it('7 s after its time gives a covered step 67 s of 60 s, and only that one', () => {
    const run = watch({ ...runOf(COVERING, [60, 120, 240]), events: [on(0)] }, 0, 67);
    const late = watch(withEvent(run, made(1, 67)), 67, 300);
    expect(realOf(late, 300)).toEqual([0, 67, 120, 240]);
  });

  it('7 s after its time takes 7 s from a step that is uncovered late', () => {
    const run = watch({ ...runOf(UNCOVERING, [60, 120, 240]), events: [on(0)] }, 0, 127);
    const late = watch(withEvent(run, made(1, 127)), 127, 300);
    expect(realOf(late, 300)).toEqual([0, 60, 113, 240]);
  });
});

describe('a move that fell due while nobody looked', () => {
  const slept = { ...runOf(COVERING, [60, 120, 240]), events: [on(0)] };

  it('is missed, and its step goes on getting light until it is made', () => {
    const status = statusOf(slept, at(75));
    expect(status.moves[1].state).toBe('missed');
    expect(status.next).toBe(1);
    expect(realOf(slept, 75)[1]).toBe(75);
    expect(realOf(withEvent(slept, made(1, 80)), 100)[1]).toBe(80);
  });

  it('counts as made on time where the printer says so', () => {
    const said = withEvent(slept, { kind: 'on-time', move: 1, at: at(90) });
    expect(realOf(said, 100)[1]).toBe(60);
  });

  it('at the end asks when the light went off: on time is 240 s, at 300 s is 300 s', () => {
    const moved = [made(1, 60), made(2, 120)].reduce(withEvent, slept);
    expect(statusOf(moved, at(290)).moves[3].state).toBe('missed');
    expect(realOf(withEvent(moved, { kind: 'on-time', move: 3, at: at(300) }), 400)).toEqual([
      0, 60, 120, 240,
    ]);
    expect(realOf(withEvent(moved, made(3, 300)), 400)).toEqual([0, 60, 120, 300]);
  });
});

describe('a light that went off', () => {
  it('for 30 s shifts every later move by 30 s and takes nothing from any step', () => {
    const run = watch({ ...runOf(COVERING, [60, 120, 240]), events: [on(0)] }, 0, 40);
    const paused = watch({ ...run, events: [...run.events, off(40), on(70)] }, 70, 400);
    expect(realOf(paused, 400)).toEqual([0, 60, 120, 240]);
    expect(statusOf(paused, at(400)).phase).toBe('done');
  });

  it('at every move waits in the dark until it is switched on again', () => {
    const run = watch({ ...runOf(COVERING, [60, 120, 240], true), events: [on(0)] }, 0, 100);
    expect(statusOf(run, at(100)).phase).toBe('dark');
    expect(statusOf(run, at(100)).lampSeconds).toBe(60);
    const second = watch({ ...run, events: [...run.events, on(100)] }, 100, 200);
    const third = watch({ ...second, events: [...second.events, on(200)] }, 200, 400);
    expect(realOf(third, 400)).toEqual([0, 60, 120, 240]);
  });
});

describe('without free hands', () => {
  it('a move waits for its tap, at whose moment it counts', () => {
    const run = watch({ ...runOf(COVERING, [60, 120, 240], false, false), events: [on(0)] }, 0, 63);
    expect(statusOf(run, at(63)).moves[1].state).toBe('told');
    expect(realOf(withEvent(run, made(1, 63)), 100)[1]).toBe(63);
  });
});

describe('taking a tap back', () => {
  it('brings back what was before it: pause, late move, start', () => {
    const lit = watch({ ...runOf(COVERING, [60, 120, 240]), events: [on(0)] }, 0, 70);
    const taps = [off(70)].reduce(withEvent, withEvent(lit, made(1, 68)));
    expect(lastTap(taps)?.kind).toBe('off');
    const lampOn = withoutLastTap(taps);
    expect(statusOf(lampOn, at(80)).lampSeconds).toBe(80);
    const onTime = withoutLastTap(lampOn);
    expect(realOf(onTime, 80)[1]).toBe(60);
    expect(statusOf(withoutLastTap(onTime), at(80)).phase).toBe('ready');
  });

  it('of the end asks again when the light went off', () => {
    const ended = watch({ ...runOf(COVERING, [60, 120]), events: [on(0)] }, 0, 130);
    expect(statusOf(ended, at(130)).phase).toBe('done');
    const again = withoutLastTap(ended);
    expect(statusOf(again, at(130)).moves[2].state).toBe('missed');
    expect(realOf(again, 130)[2]).toBe(130);
  });

  it('changes nothing where nothing was tapped', () => {
    const run = runOf(COVERING, [60, 120]);
    expect(withoutLastTap(run)).toEqual(run);
    expect(lastTap(run)).toBeNull();
  });
});
