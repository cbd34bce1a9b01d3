import { phrase } from '../../analysis/phrases.ts';
import { Refusal } from '../refusal.ts';

/** The file is no archive of a book, or one that must not be trusted. */
export const noArchive = (why: string): Refusal =>
  new Refusal('archive-invalid', `This is no archive of a Tonestep book: ${why}. Nothing was brought in.`, {
    phrase: phrase('archive-refused', { as: 'none', why }),
  });

/** It was an archive once. */
export const damagedArchive = (why: string): Refusal =>
  new Refusal(
    'archive-damaged',
    `The archive is damaged: ${why}. Copy it again from where it was made. Nothing was brought in.`,
    { phrase: phrase('archive-refused', { as: 'damaged', why }) },
  );

export const hugeArchive = (why: string): Refusal =>
  new Refusal(
    'archive-too-large',
    `The archive is larger than a book can be: ${why}. Nothing was brought in.`,
    { phrase: phrase('archive-refused', { as: 'huge', why }) },
  );
