import { signal } from '@preact/signals';
import { keepJson, keepText, keptJson } from '../kept.ts';
import type { Run, RunPlan } from './runLog.ts';

const KEY = 'tonestep.run';
const BEFORE_KEY = 'tonestep.run-before';

const isRun = (value: unknown): value is Run =>
  typeof value === 'object' &&
  value !== null &&
  'plan' in value &&
  'events' in value &&
  Array.isArray((value as Run).events) &&
  Array.isArray((value as Run).plan?.moves);

const kept = keptJson(KEY);
const keptBefore = keptJson(BEFORE_KEY);

/** The strip on the clock, as the browser keeps it; null where none is planned. */
export const run = signal<Run | null>(isRun(kept) ? kept : null);

/** The strip that was on the clock before, for a way back. */
export const runBefore = signal<Run | null>(isRun(keptBefore) ? keptBefore : null);

/** Sets the strip on the clock and keeps it at once: a locked phone may end the page at any moment. */
export const setRun = (next: Run | null): void => {
  run.value = next;
  if (next === null) keepText(KEY, null);
  else keepJson(KEY, next);
};

/** Has the light gone on, and not off for the last time? */
export const isUnderWay = (now: Run | null): boolean =>
  now?.events.some(({ kind }) => kind === 'on') === true &&
  !now.events.some(
    (event) =>
      'move' in event && event.move === now.plan.moves.length - 1 && (event.kind !== 'told' || now.handsFree),
  );

const keepBefore = (before: Run | null): void => {
  runBefore.value = before;
  keepJson(BEFORE_KEY, before);
};

/** Puts a planned strip on the clock. */
export const loadRun = (plan: RunPlan): void => {
  if (run.value && run.value.events.length > 0) keepBefore(run.value);
  setRun({ plan, handsFree: run.value?.handsFree ?? true, events: [] });
};

/** Begins the same strip anew. */
export const startOver = (): void => {
  if (!run.value) return;
  keepBefore(run.value);
  setRun({ ...run.value, events: [] });
};

export const bringBackRun = (): void => {
  if (!runBefore.value) return;
  const before = runBefore.value;
  keepBefore(null);
  setRun(before);
};
