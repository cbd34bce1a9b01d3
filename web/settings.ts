import { signal } from '@preact/signals';
import type { ReadOptions } from '../server/contracts/readOptions.ts';
import { keepJson, keepText, keptJson, keptText } from './kept.ts';
import { parseNumber } from './numbers.ts';
import { parseOneTime } from './times.ts';

const TIMER_KEY = 'tonestep.timer-step';

/** The timer's smallest step as typed; empty where none was given. */
export const timerStepText = signal(keptText(TIMER_KEY) ?? '');

/** The timer's smallest step in seconds; null where none was given or it makes no sense. */
export const timerStepSeconds = (): number | null => {
  const step = parseNumber(timerStepText.value) ?? parseOneTime(timerStepText.value);
  return step !== null && step >= 0.01 && step <= 600 ? step : null;
};

export const writeTimerStep = (text: string): void => {
  timerStepText.value = text;
  keepText(TIMER_KEY, text);
};

/** When a step counts as washed out, full or overexposed: what holds where nothing is given, and the most that may be. */
export const THRESHOLDS = {
  leastDeltaE: { usual: 1, most: 20 },
  leastTimesU: { usual: 2, most: 10 },
  leastDepthPercent: { usual: 10, most: 50 },
  fullWithinL: { usual: 1, most: 20 },
  overexposedStops: { usual: 0.5, most: 5 },
} as const;
export type Threshold = keyof typeof THRESHOLDS;
export const THRESHOLD_NAMES = Object.keys(THRESHOLDS) as Threshold[];

const THRESHOLDS_KEY = 'tonestep.thresholds';

const keptThresholds = (): Partial<Record<Threshold, string>> => {
  const kept = keptJson(THRESHOLDS_KEY);
  if (typeof kept !== 'object' || kept === null) return {};
  return Object.fromEntries(
    THRESHOLD_NAMES.flatMap((name) => {
      const text = (kept as Record<string, unknown>)[name];
      return typeof text === 'string' ? [[name, text]] : [];
    }),
  );
};

/** The thresholds as typed; left out where none was. */
export const thresholdTexts = signal(keptThresholds());

/** A threshold as given; null where it is left as it usually is, NaN where it makes no sense. */
export const givenThreshold = (name: Threshold): number | null => {
  const text = (thresholdTexts.value[name] ?? '').trim();
  if (text === '') return null;
  const value = parseNumber(text);
  return value !== null && value >= 0 && value <= THRESHOLDS[name].most ? value : Number.NaN;
};

export const writeThreshold = (name: Threshold, text: string): void => {
  thresholdTexts.value = { ...thresholdTexts.value, [name]: text };
  keepJson(THRESHOLDS_KEY, thresholdTexts.value);
};

/** What a reading is told of this workshop. */
export const readOptions = (): ReadOptions => {
  const step = timerStepSeconds();
  const verdictSettings = Object.fromEntries(
    THRESHOLD_NAMES.flatMap((name) => {
      const value = givenThreshold(name);
      return value === null || Number.isNaN(value) ? [] : [[name, value]];
    }),
  );
  return {
    ...(step !== null && { timerStepSeconds: step }),
    ...(Object.keys(verdictSettings).length > 0 && { verdictSettings }),
  };
};
