import { timerStepSeconds, timerStepText, writeTimerStep } from '../settings.ts';
import { words } from '../words.ts';
import { TextField, type Written } from './TextField.tsx';

const step: Written = {
  get value() {
    return timerStepText.value;
  },
  set value(text) {
    writeTimerStep(text);
  },
};

/** The smallest step of the printer's timer, wherever it is asked for. */
export const TimerStepField = (look: { label: string; hint?: string; placeholder?: string }) => {
  const wrong = timerStepText.value.trim() !== '' && timerStepSeconds() === null;
  return <TextField {...look} value={step} kind="number" problem={wrong ? words.plan.noTimerStep : null} />;
};
