import { computed, effect, signal } from '@preact/signals';
import type { Advice } from '../server/contracts/reading.ts';
import type { Target } from '../server/contracts/target.ts';
import { shown, target } from './session.ts';

type Advisor = typeof import('./advisor.ts');

/** The part of the analysis that answers other targets; fetched after the page has been drawn. */
const advisor = signal<Advisor | null>(null);

const loadAdvisor = async (): Promise<void> => {
  if (advisor.peek() === null) advisor.value = await import('./advisor.ts');
};

/** The advice on show: the reading's own until another target is asked for. */
export const answer = computed<Advice | null>(() => {
  const now = shown.value;
  if (!now) return null;
  const { advice, curve } = now.reading;
  if (target.value === advice.target || advisor.value === null) return advice;
  return advisor.value.adviceFor(curve, target.value);
});

let waiting: Target | null = null;

/** Asks for another depth; while a line is dragged, at most once per frame. */
export const ask = (wanted: Target): void => {
  if (waiting === null)
    loadAdvisor().then(() =>
      requestAnimationFrame(() => {
        if (waiting) target.value = waiting;
        waiting = null;
      }),
    );
  waiting = wanted;
};

const whenIdle = (job: () => void): void => {
  if ('requestIdleCallback' in globalThis) requestIdleCallback(job, { timeout: 2000 });
  else setTimeout(job, 300);
};

/** Prepares for other targets while nobody waits. */
effect(() => {
  const outcome = shown.value?.reading.curve;
  if (outcome) whenIdle(() => loadAdvisor().then(() => advisor.value?.prepare(outcome)));
});
