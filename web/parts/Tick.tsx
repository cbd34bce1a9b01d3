import type { Signal } from '@preact/signals';

/** Something that is so or not. */
export const Tick = ({ label, value }: { label: string; value: Signal<boolean> }) => (
  <label class="tick-box">
    <input
      type="checkbox"
      checked={value.value}
      onChange={(event) => {
        value.value = event.currentTarget.checked;
      }}
    />
    <span>{label}</span>
  </label>
);
