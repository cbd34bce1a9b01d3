import type { Signal } from '@preact/signals';
import { formatTime, parseOneTime } from '../times.ts';
import { words } from '../words.ts';
import { TextField } from './TextField.tsx';

/** A field for one time, with what is understood by it beside it, and what to write where nothing is. */
export const TimeInput = ({ label, value }: { label: string; value: Signal<string> }) => {
  const seconds = parseOneTime(value.value);
  const typed = value.value.trim();
  return (
    <TextField
      label={
        <>
          {label}
          {seconds !== null && <span class="understood"> {formatTime(seconds)}</span>}
        </>
      }
      value={value}
      problem={typed !== '' && seconds === null ? words.plan.noTime(typed) : null}
    />
  );
};
