import { draft } from '../draft.ts';
import { words } from '../words.ts';

const NAMES = ['dye', 'cloth', 'light'] as const;

/** What was exposed on what under which light: a time holds for these alone. */
export const NamesField = () => (
  <fieldset class="block">
    <legend>{words.form.names}</legend>
    <div class="names">
      {NAMES.map((name) => (
        <label key={name} class="field">
          <span>{words.form[name]}</span>
          <input
            value={draft[name].value}
            maxLength={200}
            onInput={(event) => {
              draft[name].value = event.currentTarget.value;
            }}
          />
        </label>
      ))}
    </div>
  </fieldset>
);
