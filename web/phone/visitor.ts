import { signal } from '@preact/signals';
import type { VisitorAnswer } from '../../server/contracts/pairing.ts';
import { fetchVisitor } from './phoneApi.ts';

/** Who looks at this page: the computer itself, a paired phone, or one that has to pair first; null until known. */
export const visitor = signal<VisitorAnswer | null>(null);

/** Is this a phone that the computer has not opened the book to? */
export const isBookShut = (to: VisitorAnswer | null): boolean => to?.visitor === 'phone' && !to.book;

/** The page's fragment in which a scanned square code carries the pairing code. */
const FRAGMENT = '#pair=';

/** Takes the code out of the address, where it came with one, so that it stays in no history. */
export const codeInAddress = (): string | null => {
  if (!location.hash.startsWith(FRAGMENT)) return null;
  const code = decodeURIComponent(location.hash.slice(FRAGMENT.length));
  history.replaceState(null, '', location.pathname);
  return code;
};

export const askVisitor = async (): Promise<void> => {
  try {
    visitor.value = await fetchVisitor();
  } catch {
    visitor.value = null;
  }
};

/** Asks once more who looks at this page; without an answer, what was known stays. */
export const renewVisitor = async (): Promise<void> => {
  visitor.value = await fetchVisitor().catch(() => visitor.value);
};
