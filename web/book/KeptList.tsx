import { batch, signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ReadingLine, ReadingList } from '../../server/contracts/recordReadings.ts';
import { goTo } from '../address.ts';
import { formatMoment, formatNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { TextField } from '../parts/TextField.tsx';
import { Tick } from '../parts/Tick.tsx';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { fetchCloths, fetchDyes, fetchLights, fetchReadings } from '../record/recordApi.ts';
import { useAway } from '../record/useAway.ts';
import { keptKey } from '../session.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { stripNameOf } from './stripNameOf.ts';

const AT_ONCE = 50;

/** What the list is narrowed to; stays while one looks at a strip and comes back. */
const wish = {
  dyeId: signal(''),
  clothId: signal(''),
  lightId: signal(''),
  text: signal(''),
  away: signal(false),
};

/** Strips ticked for comparing. */
const chosen = signal<readonly string[]>([]);

const KeptRow = ({ line, again }: { line: ReadingLine; again: () => void }) => {
  const name = stripNameOf(line);
  const isAway = line.putAwayAt !== null;
  const { failure, swap } = useAway('reading', again);
  return (
    <li class="book-row kept-row">
      <input
        type="checkbox"
        aria-label={words.book.choose(name)}
        checked={chosen.value.includes(line.id)}
        disabled={line.deepestL === null}
        onChange={(event) => {
          chosen.value = event.currentTarget.checked
            ? [...chosen.value, line.id]
            : chosen.value.filter((id) => id !== line.id);
        }}
      />
      <span class="book-words">
        <strong>{name}</strong>
        <span>
          {line.light} ·{' '}
          {line.roundedSeconds === null ? words.answer.noTime : formatTime(line.roundedSeconds)}
          {line.low !== null && line.high !== null && (
            <span class="fine"> ({words.answer.interval(formatTime(line.low), formatTime(line.high))})</span>
          )}
        </span>
        <span class="fine">
          {words.book.purposes[line.purpose]} ·{' '}
          {words.book.exposedAt(formatMoment(Date.parse(line.exposedAt)))}
          {isAway && ` · ${words.book.isAway}`}
        </span>
      </span>
      <span class="book-tools">
        <button
          type="button"
          aria-label={`${words.book.open}: ${name}`}
          onClick={() => goTo('answer', keptKey(line.id))}
        >
          {words.book.open}
        </button>
        <button
          type="button"
          class="quiet"
          aria-label={`${isAway ? words.book.bringBack : words.book.putAway}: ${name}`}
          onClick={() => swap(line.id, name, isAway)}
        >
          {isAway ? words.book.bringBack : words.book.putAway}
        </button>
      </span>
      {failure.value && <ProblemNote failure={failure.value} />}
    </li>
  );
};

/** Nothing in the book, or nothing that fits: what to do next. */
const NothingKept = ({ narrowed, onAll }: { narrowed: boolean; onAll: () => void }) => (
  <div class="empty">
    <p class="empty-what">{narrowed ? words.book.nothingFound : words.book.keptEmpty}</p>
    {narrowed ? (
      <button type="button" onClick={onAll}>
        {words.book.showAll}
      </button>
    ) : (
      <p>{words.book.keptEmptyNext}</p>
    )}
  </div>
);

/** The strips that are kept in the book. */
export const KeptList = () => {
  const { answer, ask } = useMemo(() => asking<ReadingList>(), []);
  const limit = useSignal(AT_ONCE);
  const names = useSignal<
    Readonly<Record<'dye' | 'cloth' | 'light', readonly (readonly [string, string])[]>>
  >({
    dye: [],
    cloth: [],
    light: [],
  });
  const { dyeId, clothId, lightId, text, away } = wish;
  const look = (): Promise<void> =>
    ask(() =>
      fetchReadings({
        dyeId: dyeId.value,
        clothId: clothId.value,
        lightId: lightId.value,
        text: text.value.trim(),
        away: away.value,
        limit: limit.value,
      }),
    );
  useEffect(() => {
    look();
  }, [dyeId.value, clothId.value, lightId.value, away.value, limit.value]);
  useEffect(() => {
    Promise.all([fetchDyes(), fetchCloths(), fetchLights()]).then(
      ([dyes, cloths, lights]) => {
        const list = (things: readonly { readonly id: string; readonly name: string }[]) =>
          things.map(({ id, name }) => [id, name] as const);
        names.value = { dye: list(dyes), cloth: list(cloths), light: list(lights) };
      },
      () => undefined,
    );
  }, []);
  /** As it was when the list was opened: the fold must not close under a hand. */
  const chosenToo = useMemo(
    () => away.peek() || [dyeId, clothId, lightId].some((field) => field.peek() !== ''),
    [],
  );
  const all = (): void => {
    batch(() => {
      for (const field of [dyeId, clothId, lightId, text]) field.value = '';
      away.value = false;
    });
    look();
  };
  const narrowed = [dyeId, clothId, lightId, text].some((field) => field.value !== '') || away.value;
  const bare = !narrowed && answer.value?.kind === 'here' && answer.value.value.total === 0;
  const any = ['', words.book.any] as const;
  return (
    <section aria-labelledby="kept-list-heading">
      <h2 id="kept-list-heading">{words.book.kept}</h2>
      {!bare && (
        <form
          class="book-wish"
          onSubmit={(event) => {
            event.preventDefault();
            look();
          }}
        >
          <TextField label={words.book.search} value={text} kind="search" />
          <button type="submit">{words.book.find}</button>
          <details class="book-narrow" open={chosenToo}>
            <summary>{words.book.narrow}</summary>
            <div class="book-choices">
              <Choice label={words.form.dye} value={dyeId} options={[any, ...names.value.dye]} />
              <Choice label={words.form.cloth} value={clothId} options={[any, ...names.value.cloth]} />
              <Choice label={words.form.light} value={lightId} options={[any, ...names.value.light]} />
              <Tick label={words.book.showAway} value={away} />
            </div>
          </details>
        </form>
      )}
      <Answered asked={answer.value} again={look}>
        {({ readings, total }) =>
          readings.length === 0 ? (
            <NothingKept narrowed={narrowed} onAll={all} />
          ) : (
            <>
              <div class="book-chosen">
                <span class="fine">
                  {words.book.count(formatNumber(readings.length, 0), formatNumber(total, 0))}
                </span>
                {chosen.value.length < 2 ? (
                  <span class="fine">{words.book.compareHint}</span>
                ) : (
                  <button
                    type="button"
                    class="primary"
                    onClick={() => goTo('compare', chosen.value.map(keptKey).join(','))}
                  >
                    {words.book.compareChosen(chosen.value.length)}
                  </button>
                )}
              </div>
              <ul class="book-list">
                {readings.map((line) => (
                  <KeptRow key={line.id} line={line} again={look} />
                ))}
              </ul>
              {readings.length < total && (
                <button
                  type="button"
                  onClick={() => {
                    limit.value += AT_ONCE;
                  }}
                >
                  {words.book.more}
                </button>
              )}
            </>
          )
        }
      </Answered>
    </section>
  );
};
