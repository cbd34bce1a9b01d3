import { signal } from '@preact/signals';
import { keepText, keptText } from './kept.ts';
import { parseNumber } from './numbers.ts';

const TIMER_KEY = 'tonestep.timer-step';

/** The timer's smallest step as typed; empty where none was given. */
export const timerStepText = signal(keptText(TIMER_KEY) ?? '');

/** The timer's smallest step in seconds; null where none was given or it makes no sense. */
export const timerStepSeconds = (): number | null => {
  const step = parseNumber(timerStepText.value);
  return step !== null && step >= 0.01 && step <= 600 ? step : null;
};

export const writeTimerStep = (text: string): void => {
  timerStepText.value = text;
  keepText(TIMER_KEY, text);
};
