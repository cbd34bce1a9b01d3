import { useSignal } from '@preact/signals';
import { draft, stepTimesOf } from '../draft.ts';
import { fillTimes } from '../fillTimes.ts';
import { type Spacing, seriesOf } from '../series.ts';
import { formatTime, parseOneTime } from '../times.ts';
import { words } from '../words.ts';
import { Choice } from './Choice.tsx';
import { TextField } from './TextField.tsx';
import { Tick } from './Tick.tsx';

const SPACINGS: readonly Spacing[] = ['whole-stop', 'half-stop', 'third-stop', 'equal-times'];
const COUNTS = Array.from({ length: 11 }, (_, i) => String(i + 2));

const Series = () => {
  const first = useSignal('0:30');
  const spacing = useSignal<Spacing>('whole-stop');
  const count = useSignal('6');
  const withBase = useSignal(true);
  const problem = useSignal(false);
  const fill = (): void => {
    try {
      fillTimes(seriesOf(parseOneTime(first.value) ?? 0, spacing.value, Number(count.value), withBase.value));
      problem.value = false;
    } catch {
      problem.value = true;
    }
  };
  return (
    <details class="series">
      <summary>{words.form.series}</summary>
      <div class="series-fields">
        <TextField label={words.form.seriesFirst} value={first} />
        <Choice label={words.form.seriesCount} value={count} options={COUNTS.map((n) => [n, n])} />
        <Choice
          label={words.form.seriesSpacing}
          value={spacing}
          options={SPACINGS.map((kind) => [kind, words.form.spacing[kind]])}
          grow
        />
        <Tick label={words.form.seriesBase} value={withBase} />
        <button type="button" onClick={fill}>
          {words.form.seriesFill}
        </button>
        {problem.value && (
          <p class="field-problem" role="alert">
            {words.form.seriesProblem}
          </p>
        )}
      </div>
    </details>
  );
};

/** Marks placed by hand stay where the number of steps does; a corrected time only renames its step. */
const keepMarks = (seconds: readonly number[]): void => {
  const { value: marks } = draft.marks;
  if (!marks) return;
  draft.marks.value =
    marks.steps.length === seconds.length
      ? { ...marks, steps: marks.steps.map((step, i) => ({ ...step, seconds: seconds[i] })) }
      : null;
};

/** The exposure of every step, as a list that may be written in any usual way, and what was understood by it. */
export const TimesField = () => {
  const times = stepTimesOf(draft.times.value);
  return (
    <fieldset class="block">
      <legend>{words.form.times}</legend>
      <label class="field">
        <span>{words.form.timesLabel}</span>
        <textarea
          id="times"
          rows={2}
          value={draft.times.value}
          aria-describedby="times-hint times-understood"
          aria-invalid={times.kind !== 'times'}
          spellcheck={false}
          onInput={(event) => {
            draft.times.value = event.currentTarget.value;
            draft.fromRun.value = false;
            const typed = stepTimesOf(draft.times.value);
            if (typed.kind === 'times') keepMarks(typed.seconds);
          }}
        />
      </label>
      {draft.fromRun.value && <p>{words.form.fromRun}</p>}
      <p class="fine" id="times-hint">
        {words.form.timesHint}
      </p>
      <div id="times-understood" aria-live="polite">
        {times.kind === 'times' && (
          <>
            <p class="fine">{words.form.timesUnderstood(times.seconds.length)}</p>
            <ol class="times">
              {times.seconds.map((seconds, i) => (
                <li key={i}>{seconds === 0 ? words.stage.base : formatTime(seconds)}</li>
              ))}
            </ol>
          </>
        )}
        {times.kind === 'no-time' && <p class="field-problem">{words.form.timesProblem(times.text)}</p>}
        {times.kind === 'none' && draft.tried.value && <p class="field-problem">{words.form.timesNone}</p>}
        {times.kind === 'too-many' && <p class="field-problem">{words.form.timesMany}</p>}
      </div>
      <Series />
    </fieldset>
  );
};
