import { effect, signal } from '@preact/signals';
import { maySleep, stayAwake } from './awake.ts';
import { isUnderWay, run, setRun } from './run.ts';
import { announced, isLit, momentOf, type Run, statusOf } from './runLog.ts';
import { planSound, soundClock, soundState } from './sound.ts';

/** The wall clock as the page last looked at it, ms. */
export const now = signal(Date.now());

const EVERY_MS = 100;
/** A page that did not look for longer than this was asleep. */
const ASLEEP_MS = 2500;

let lookedAt = Date.now();
let soundAt: number | null = null;

/** Did the sound run on all the while, so that what was planned was heard? */
const wasHeard = (gapMs: number): boolean => {
  const clock = soundClock();
  return clock !== null && soundAt !== null && Math.abs((clock - soundAt) * 1000 - gapMs) < 700;
};

const look = (): void => {
  const at = Date.now();
  const gap = at - lookedAt;
  const before = run.peek();
  if (before && isUnderWay(before)) {
    const awake = gap >= 0 && (gap < ASLEEP_MS || wasHeard(gap));
    const after = announced(before, awake ? lookedAt : at, at);
    if (after !== before) {
      navigator.vibrate?.([300, 120, 300]);
      setRun(after);
    }
  }
  lookedAt = at;
  soundAt = soundClock();
  now.value = at;
};

/** When the tones of the moves to come are due. */
const cuesOf = (of: Run, at: number): readonly { inSeconds: number; end: boolean }[] => {
  if (!isLit(of.events)) return [];
  const { moves, stopsAtMoves } = of.plan;
  const status = statusOf(of, at);
  const coming = moves.flatMap(({ atSeconds }, i) => {
    if (i === 0 || status.moves[i].state !== 'coming') return [];
    const moment = momentOf(of.events, atSeconds, at);
    return moment === null ? [] : [{ inSeconds: (moment - at) / 1000, end: i === moves.length - 1 }];
  });
  return stopsAtMoves ? coming.slice(0, 1) : coming;
};

let begun = false;

/** Lets the clock look, sound and stay awake for as long as a strip is being exposed, whatever view is open. */
export const beginToTick = (): void => {
  if (begun) return;
  begun = true;
  lookedAt = Date.now();
  setInterval(look, EVERY_MS);
  document.addEventListener('visibilitychange', look);
  effect(() => {
    const cues = run.value ? cuesOf(run.value, Date.now()) : [];
    if (soundState.value === 'on') planSound(cues);
  });
  let awake = false;
  effect(() => {
    const wanted = isUnderWay(run.value);
    if (wanted === awake) return;
    awake = wanted;
    if (wanted) stayAwake();
    else maySleep();
  });
};
