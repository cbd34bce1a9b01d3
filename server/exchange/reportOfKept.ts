import type { KeptReading } from '../contracts/recordReadings.ts';
import type { PaperWords } from '../papers/words/shape.ts';

const day = (moment: string): string => moment.slice(0, 10);

/** What a book says of a kept reading beside the reading itself, in lines for its report. */
export const keptRemarks = ({ line }: KeptReading, { kept }: PaperWords): readonly string[] => {
  const facts = [
    kept.exposed(day(line.exposedAt)),
    line.batch === null ? '' : kept.batch(line.batch),
    line.lampHours === null ? '' : kept.lampHours(String(line.lampHours)),
    line.sky === null ? '' : kept.sky(line.sky),
    kept.read(day(line.readAt)),
    kept.reading(line.id),
  ].filter(Boolean);
  return [
    facts.join(' · '),
    ...(line.supersededById === null ? [] : [kept.superseded(line.supersededById)]),
    ...(line.putAwayAt === null ? [] : [kept.putAway(day(line.putAwayAt))]),
    ...(line.remark === '' ? [] : [line.remark]),
  ];
};

/** A file name that says what is in it, of plain letters only. */
export const fileNameOf = (names: readonly string[], ending: string): string => {
  const plain = names
    .join(' ')
    .normalize('NFKD')
    .replace(/\p{M}+/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
    .toLowerCase();
  return `${plain || 'reading'}.${ending}`;
};
