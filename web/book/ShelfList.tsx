import { goTo } from '../address.ts';
import { formatMoment } from '../numbers.ts';
import { Crop } from '../parts/Crop.tsx';
import { tell } from '../parts/Notice.tsx';
import { shown } from '../session.ts';
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
import { stripNameOf } from './stripNameOf.ts';

const putStripAway = (strip: ShelfStrip): void => {
  takeOffShelf(strip.key);
  if (shown.value?.key === strip.key) shown.value = null;
  tell(words.book.putAwayDone(stripNameOf(strip.strip)), () => layOnShelf(strip));
};

const ShelfRow = ({ strip }: { strip: ShelfStrip }) => {
  const { roundedSeconds } = strip.reading.advice;
  const name = stripNameOf(strip.strip);
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

/** The strips that were read in this browser. */
export const ShelfList = () => (
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
