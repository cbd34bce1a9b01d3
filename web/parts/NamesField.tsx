import { draft } from '../draft.ts';
import { words } from '../words.ts';
import { TextField } from './TextField.tsx';

const NAMES = ['dye', 'cloth', 'light'] as const;

/** What was exposed on what under which light: a time holds for these alone. */
export const NamesField = () => (
  <fieldset class="block">
    <legend>{words.form.names}</legend>
    <div class="names">
      {NAMES.map((name) => (
        <TextField key={name} label={words.form[name]} value={draft[name]} most={200} />
      ))}
    </div>
  </fieldset>
);
