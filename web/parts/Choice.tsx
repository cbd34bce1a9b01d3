import type { Signal } from '@preact/signals';

/** One of a few, from a list. */
export const Choice = <T extends string>({
  label,
  value,
  options,
  grow = false,
}: {
  label: string;
  value: Signal<T>;
  options: readonly (readonly [value: T, text: string])[];
  /** Takes the room that its row leaves. */
  grow?: boolean;
}) => (
  <label class={grow ? 'field grow' : 'field'}>
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
