import type { JSX } from 'preact';
import { BOOK_VIEWS, goTo, hashOf, place, type View } from '../address.ts';
import { isBookShut, renewVisitor, visitor } from '../phone/visitor.ts';
import { words } from '../words.ts';

/** The way of a strip over the bench, from left to right. */
const WAY = ['plan', 'run', 'read', 'answer', 'book'] as const satisfies readonly View[];

/** What lies on the bench at each stage, drawn in few lines: steps, clock, photo on the card, curve, book. */
const DRAWINGS: Readonly<Record<(typeof WAY)[number], JSX.Element>> = {
  plan: <path d="M3 19V5h18v14zM3 12h18M8 12v7M12.500 12v7M17 12v7" />,
  run: <path d="M12 3a9 9 0 1 0 .01 0zM12 7v5l4 3" />,
  read: <path d="M2 7h4l2-3h8l2 3h4v13H2zM12 9.500a3.800 3.800 0 1 0 .01 0z" />,
  answer: <path d="M3 4v16h18M3 7c8 0 6 10 18 10" />,
  book: <path d="M12 6C9 4 6 4 3 5v14c3-1 6-1 9 1 3-2 6-2 9-1V5c-3-1-6-1-9 1zM12 6v14" />,
};

/** The book, where it is shut to this phone. */
const SHUT_BOOK = <path d="M6 3h12v18H6zM9.500 3v18M12.500 8h3" />;

const isAt = (view: View): boolean =>
  place.value.view === view ||
  (view === 'book' && (BOOK_VIEWS as readonly View[]).includes(place.value.view));

/** Where one can go, in the order in which a strip is made. At the bottom of a phone, along the top of a desk. */
export const Navigation = () => {
  const shut = isBookShut(visitor.value);
  return (
    <nav class="ways" aria-label={words.frame.label}>
      {WAY.map((view) => (
        <a
          key={view}
          href={hashOf({ view, detail: null })}
          aria-current={isAt(view) ? 'page' : undefined}
          onClick={(event) => {
            event.preventDefault();
            goTo(view);
            // It may have been opened since.
            if (view === 'book' && shut) renewVisitor();
          }}
        >
          <svg width="24" height="24" viewBox="0 0 24 24" aria-hidden="true">
            {view === 'book' && shut ? SHUT_BOOK : DRAWINGS[view]}
          </svg>
          {words.frame[view]}
          {view === 'book' && shut && <span class="unseen"> ({words.frame.bookShut})</span>}
        </a>
      ))}
    </nav>
  );
};
