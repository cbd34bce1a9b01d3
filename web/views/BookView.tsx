import { KeptList } from '../book/KeptList.tsx';
import { ShelfList } from '../book/ShelfList.tsx';
import { BookWays } from '../record/BookWays.tsx';
import { shelf } from '../shelf/shelf.ts';
import { words } from '../words.ts';
import '../styles/book.css';

/** The strips that are kept, and those that were read in this browser: first where there are some. */
export const BookView = () => (
  <main class="book-view" id="main" tabIndex={-1}>
    <h1>{words.book.heading}</h1>
    <BookWays />
    {shelf.value.length > 0 && <ShelfList />}
    <KeptList />
    {shelf.value.length === 0 && <ShelfList />}
  </main>
);
