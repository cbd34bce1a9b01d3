import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';

/** What a field holds and is written to: a signal, or anything else with a text. */
export interface Written {
  value: string;
}

/** What is typed into a field, for the keys that a phone shows. */
export type FieldKind = 'words' | 'lines' | 'number' | 'count' | 'day' | 'moment' | 'search';

const TYPES: Partial<Readonly<Record<FieldKind, string>>> = {
  day: 'date',
  moment: 'datetime-local',
  search: 'search',
};

/** A field for words or a number under its name, with what is meant by it and what is wrong with it below. */
export const TextField = ({
  label,
  value,
  kind = 'words',
  placeholder,
  most,
  suggestions,
  hint,
  problem,
  wrong = false,
  wide = false,
}: {
  label: ComponentChildren;
  value: Written;
  kind?: FieldKind;
  placeholder?: string;
  /** Most letters. */
  most?: number;
  /** Known texts, to be chosen from. */
  suggestions?: readonly string[] | undefined;
  hint?: string;
  /** What is wrong with the text; null where nothing is. */
  problem?: string | null;
  /** True where it is wrong and something else says why. */
  wrong?: boolean;
  wide?: boolean;
}) => {
  const id = useId();
  const told = typeof problem === 'string';
  const described = [hint !== undefined && `${id}-hint`, told && `${id}-problem`].filter(Boolean).join(' ');
  const shared = {
    id,
    value: value.value,
    ...(placeholder !== undefined && { placeholder }),
    ...(most !== undefined && { maxLength: most }),
    'aria-invalid': told || wrong,
    ...(described !== '' && { 'aria-describedby': described }),
    onInput: (event: { readonly currentTarget: { readonly value: string } }) => {
      value.value = event.currentTarget.value;
    },
  };
  // Which of these go together follows from the kind; the types of the input element can't see that.
  const special: object = {
    ...(TYPES[kind] && { type: TYPES[kind] }),
    ...(kind === 'number' && { inputMode: 'decimal' }),
    ...(kind === 'count' && { inputMode: 'numeric' }),
    ...(suggestions && { list: `${id}-known` }),
  };
  return (
    <div class={wide ? 'field wide' : 'field'}>
      <label for={id}>{label}</label>
      {kind === 'lines' ? (
        <textarea rows={2} {...shared} />
      ) : (
        <input autocomplete="off" {...special} {...shared} />
      )}
      {suggestions && (
        <datalist id={`${id}-known`}>
          {suggestions.map((one) => (
            <option key={one} value={one} />
          ))}
        </datalist>
      )}
      {hint !== undefined && (
        <p class="fine" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {told && (
        <p class="field-problem" id={`${id}-problem`} role="alert">
          {problem}
        </p>
      )}
    </div>
  );
};
