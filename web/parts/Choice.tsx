import type { Signal } from '@preact/signals';

/** One of a few, from a list. */
export const Choice = <T extends string>({
  label,
  value,
  options,
}: {
  label: string;
  value: Signal<T>;
  options: readonly (readonly [value: T, text: string])[];
}) => (
  <label class="field">
    <span>{label}</span>
    <select
      value={value.value}
      onChange={(event) => {
        value.value = event.currentTarget.value as T;
      }}
    >
      {options.map(([name, text]) => (
        <option key={name} value={name}>
          {text}
        </option>
      ))}
    </select>
  </label>
);
