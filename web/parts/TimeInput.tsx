import type { Signal } from '@preact/signals';
import { formatTime, parseTimes } from '../times.ts';

/** A field for one time, with what is understood by it beside it. */
export const TimeInput = ({ label, value }: { label: string; value: Signal<string> }) => {
  const parsed = parseTimes(value.value);
  const understood = parsed.ok && parsed.seconds.length === 1 ? formatTime(parsed.seconds[0]) : null;
  const typed = value.value.trim() !== '';
  return (
    <label class="field">
      <span>
        {label}
        {understood !== null && <output class="understood"> {understood}</output>}
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
