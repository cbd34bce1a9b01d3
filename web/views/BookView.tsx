import { signal, useSignal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { ReadingLine, ReadingList } from '../../server/contracts/recordReadings.ts';
import { goTo } from '../address.ts';
import { formatMoment, formatNumber } from '../numbers.ts';
import { Choice } from '../parts/Choice.tsx';
import { Crop } from '../parts/Crop.tsx';
import { tell } from '../parts/Notice.tsx';
import { Answered } from '../record/Answered.tsx';
import { asking } from '../record/ask.ts';
import { BookWays } from '../record/BookWays.tsx';
import {
  bringBack,
  fetchCloths,
  fetchDyes,
  fetchLights,
  fetchReadings,
  putAway,
} from '../record/recordApi.ts';
import { keptKey, shown } from '../session.ts';
import {
  keepsStrips,
  layOnShelf,
  MOST_STRIPS,
  previewOf,
  type ShelfStrip,
  shelf,
  takeOffShelf,
} from '../shelf/shelf.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import '../styles/book.css';

const AT_ONCE = 50;

const nameOf = ({ dye, cloth }: { readonly dye: string; readonly cloth: string }): string =>
  [dye, cloth].filter(Boolean).join(' · ') || words.frame.yourStrip;

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
  const name = nameOf(line);
  const isAway = line.putAwayAt !== null;
  const swap = async (): Promise<void> => {
    await (isAway ? bringBack : putAway)('reading', line.id);
    again();
    if (!isAway)
      tell(words.book.putAwayDone(name), async () => {
        await bringBack('reading', line.id);
        again();
      });
  };
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
          onClick={swap}
        >
          {isAway ? words.book.bringBack : words.book.putAway}
        </button>
      </span>
    </li>
  );
};

const Kept = () => {
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
  const narrowed = [dyeId, clothId, lightId, text].some((field) => field.value !== '') || away.value;
  const any = ['', words.book.any] as const;
  return (
    <section aria-labelledby="kept-list-heading">
      <h2 id="kept-list-heading">{words.book.kept}</h2>
      <form
        class="book-wish"
        onSubmit={(event) => {
          event.preventDefault();
          look();
        }}
      >
        <Choice label={words.form.dye} value={dyeId} options={[any, ...names.value.dye]} />
        <Choice label={words.form.cloth} value={clothId} options={[any, ...names.value.cloth]} />
        <Choice label={words.form.light} value={lightId} options={[any, ...names.value.light]} />
        <label class="field">
          <span>{words.book.search}</span>
          <input
            type="search"
            value={text.value}
            onInput={(event) => {
              text.value = event.currentTarget.value;
            }}
          />
        </label>
        <button type="submit">{words.book.find}</button>
        <label class="tick-box">
          <input
            type="checkbox"
            checked={away.value}
            onChange={(event) => {
              away.value = event.currentTarget.checked;
            }}
          />
          <span>{words.book.showAway}</span>
        </label>
      </form>
      <Answered asked={answer.value} again={look}>
        {({ readings, total }) =>
          readings.length === 0 ? (
            <div class="empty">
              <p class="empty-what">{narrowed ? words.book.nothingFound : words.book.keptEmpty}</p>
              {!narrowed && <p>{words.book.keptEmptyNext}</p>}
            </div>
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

const putStripAway = (strip: ShelfStrip): void => {
  takeOffShelf(strip.key);
  if (shown.value?.key === strip.key) shown.value = null;
  tell(words.book.putAwayDone(nameOf(strip.strip)), () => layOnShelf(strip));
};

const ShelfRow = ({ strip }: { strip: ShelfStrip }) => {
  const { roundedSeconds } = strip.reading.advice;
  const name = nameOf(strip.strip);
  const { preview } = strip;
  return (
    <li class="book-row">
      <span class="book-strip" aria-hidden="true">
        {preview &&
          strip.reading.marks.steps.map((mark, i) => (
            <Crop key={i} preview={previewOf(preview)} quad={mark.quad} />
          ))}
      </span>
      <span class="book-words">
        <strong>{name}</strong>
        <span>
          {strip.strip.light && `${strip.strip.light} · `}
          {roundedSeconds === null ? words.answer.noTime : formatTime(roundedSeconds)}
        </span>
        <span class="fine">
          {words.book.readAt(formatMoment(strip.readAt))}
          {strip.keptId !== undefined && ` · ${words.keep.kept}`}
        </span>
      </span>
      <span class="book-tools">
        <button
          type="button"
          aria-label={`${words.book.open}: ${name}`}
          onClick={() => goTo('answer', strip.key)}
        >
          {words.book.open}
        </button>
        <button
          type="button"
          class="quiet"
          aria-label={`${words.book.putAway}: ${name}`}
          onClick={() => putStripAway(strip)}
        >
          {words.book.putAway}
        </button>
      </span>
    </li>
  );
};

const OnDevice = () => (
  <section aria-labelledby="device-heading">
    <h2 id="device-heading">{words.book.onDevice}</h2>
    {!keepsStrips.value && <p class="field-problem">{words.book.noStorage}</p>}
    {shelf.value.length === 0 ? (
      <div class="empty">
        <p class="empty-what">{words.book.empty}</p>
        <p>{words.book.emptyNext}</p>
        <button type="button" class="primary" onClick={() => goTo('plan')}>
          {words.plan.heading}
        </button>
        <button type="button" onClick={() => goTo('read')}>
          {words.form.heading}
        </button>
      </div>
    ) : (
      <>
        <p class="fine">{words.book.onDeviceNote(MOST_STRIPS)}</p>
        <ul class="book-list">
          {shelf.value.map((strip) => (
            <ShelfRow key={strip.key} strip={strip} />
          ))}
        </ul>
      </>
    )}
  </section>
);

/** The strips that are kept, and those that were read in this browser. */
export const BookView = () => (
  <main class="book-view" id="main" tabIndex={-1}>
    <h1>{words.book.heading}</h1>
    <BookWays />
    <OnDevice />
    <Kept />
  </main>
);
