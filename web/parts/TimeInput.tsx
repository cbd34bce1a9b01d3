import type { Signal } from '@preact/signals';
import { formatTime, parseOneTime } from '../times.ts';

/** A field for one time, with what is understood by it beside it. */
export const TimeInput = ({ label, value }: { label: string; value: Signal<string> }) => {
  const seconds = parseOneTime(value.value);
  const understood = seconds === null ? null : formatTime(seconds);
  const typed = value.value.trim() !== '';
  return (
    <label class="field">
      <span>
        {label}
        {understood !== null && <span class="understood"> {understood}</span>}
      </span>
      <input
        value={value.value}
        autocomplete="off"
        spellcheck={false}
        aria-invalid={typed && understood === null}
        onInput={(event) => {
          value.value = event.currentTarget.value;
        }}
      />
    </label>
  );
};
