import { useEffect, useRef } from 'preact/hooks';
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
export const BookWays = () => {
  const ways = useRef<HTMLElement>(null);
  const { view } = place.value;
  // On a phone the row is wider than the page: the part that is open stays in sight.
  useEffect(() => {
    const open = ways.current?.querySelector<HTMLElement>('[aria-current="page"]');
    if (ways.current && open) ways.current.scrollLeft = open.offsetLeft - ways.current.offsetLeft - 24;
  }, [view]);
  return (
    <nav ref={ways} class="book-ways" aria-label={words.book.parts}>
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
};
