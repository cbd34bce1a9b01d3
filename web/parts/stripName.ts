import { formatMoment } from '../numbers.ts';
import type { ShelfStrip } from '../shelf/shelf.ts';
import { words } from '../words.ts';

/** What an own strip is called in a list: its dye and cloth, and when it was read. */
export const stripName = ({ strip, readAt }: Pick<ShelfStrip, 'strip' | 'readAt'>): string =>
  [[strip.dye, strip.cloth].filter(Boolean).join(' · ') || words.frame.yourStrip, formatMoment(readAt)].join(
    ', ',
  );
