import { useSignal } from '@preact/signals';
import { TextField } from '../parts/TextField.tsx';
import { words } from '../words.ts';
import type { Candidate } from './comparable.ts';
import { fitting } from './fitting.ts';

/** Longer lists are searched, and shown a piece at a time. */
const AT_ONCE = 12;

const Ticked = ({
  one: { key, name, detail, isDemo },
  on,
  onChoose,
}: {
  one: Candidate;
  on: boolean;
  onChoose: (key: string, on: boolean) => void;
}) => (
  <label class="tick-box">
    <input type="checkbox" checked={on} onChange={(event) => onChoose(key, event.currentTarget.checked)} />
    <span>
      <span {...(isDemo && { lang: 'en' })}>{name}</span>{' '}
      <span class="fine">{isDemo ? `(${words.frame.demo})` : detail}</span>
    </span>
  </label>
);

/** Which strips are compared: those that are stay on top. */
export const ChooseStrips = ({
  strips,
  chosen,
  onChoose,
}: {
  strips: readonly Candidate[];
  /** Keys. */
  chosen: readonly string[];
  onChoose: (key: string, on: boolean) => void;
}) => {
  const text = useSignal('');
  const many = useSignal(AT_ONCE);
  const long = strips.length > AT_ONCE;
  const first = long ? strips.filter(({ key }) => chosen.includes(key)) : [];
  const others = long ? fitting(strips, text.value).filter((one) => !first.includes(one)) : strips;
  const shown = others.slice(0, long ? many.value : undefined);
  return (
    <fieldset class="block">
      <legend>{words.compare.choose}</legend>
      {long && <TextField label={words.compare.search} value={text} kind="search" />}
      <div class="candidates">
        {[...first, ...shown].map((one) => (
          <Ticked key={one.key} one={one} on={chosen.includes(one.key)} onChoose={onChoose} />
        ))}
      </div>
      {long && others.length === 0 && <p class="fine">{words.book.nothingFound}</p>}
      {shown.length < others.length && (
        <button
          type="button"
          onClick={() => {
            many.value += AT_ONCE;
          }}
        >
          {words.book.more}
        </button>
      )}
    </fieldset>
  );
};
