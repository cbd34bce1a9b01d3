import type { EvennessAnswer } from '../../server/contracts/evenness.ts';
import type { Marks } from '../../server/contracts/marks.ts';
import type { Reading } from '../../server/contracts/reading.ts';
import type { StripDescription } from '../../server/contracts/strip.ts';
import { answered, formWith, send } from '../api.ts';
import type { BedShot } from './bedDraft.ts';

export interface BedWish {
  readonly photo: BedShot;
  readonly turned: BedShot | null;
  readonly card: StripDescription['card'];
  readonly rows: number;
  readonly columns: number;
  readonly tolerancePercent: number;
  readonly curve: Reading;
}

const marksText = ({ card, steps }: Marks): string =>
  JSON.stringify({
    card: card.map(({ name, quad }) => ({ name, quad })),
    sheet: { quad: steps[0].quad },
  });

export const mapBed = async (wish: BedWish): Promise<EvennessAnswer> => {
  const { photo, turned, card, rows, columns, tolerancePercent, curve } = wish;
  const form = formWith(photo.file);
  form.set('bed', JSON.stringify({ card, rows, columns }));
  form.set('marks', marksText(photo.marks));
  if (turned) {
    form.set('also', turned.file, 'also');
    form.set('alsoMarks', marksText(turned.marks));
  }
  form.set('curve', JSON.stringify(curve));
  form.set('tolerancePercent', JSON.stringify(tolerancePercent));
  return answered(await send('/api/evenness', { method: 'POST', body: form }));
};
