import { BOOK_VIEWS, goTo, hashOf, place } from '../address.ts';
import { words } from '../words.ts';

const NAMES = {
  book: () => words.book.strips,
  today: () => words.book.today,
  compare: () => words.book.compare,
  drift: () => words.book.drift,
  evenness: () => words.book.evenness,
  archive: () => words.book.archive,
} as const;

/** The parts of the book. */
export const BookWays = () => (
  <nav class="book-ways" aria-label={words.book.parts}>
    {BOOK_VIEWS.map((view) => (
      <a
        key={view}
        href={hashOf({ view, detail: null })}
        aria-current={place.value.view === view ? 'page' : undefined}
        onClick={(event) => {
          event.preventDefault();
          goTo(view);
        }}
      >
        {NAMES[view]()}
      </a>
    ))}
  </nav>
);
