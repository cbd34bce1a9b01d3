import type { KeptReading } from '../contracts/recordReadings.ts';

const day = (moment: string): string => moment.slice(0, 10);

/** What a book says of a kept reading beside the reading itself, in lines for its report. */
export const keptRemarks = ({ line }: KeptReading): readonly string[] => {
  const facts = [
    `Exposed ${day(line.exposedAt)}`,
    line.batch === null ? '' : `batch ${line.batch}`,
    line.lampHours === null ? '' : `lamp hours ${line.lampHours}`,
    line.sky === null ? '' : `sky ${line.sky}`,
    `read ${day(line.readAt)}`,
    `reading ${line.id}`,
  ].filter(Boolean);
  return [
    facts.join(' · '),
    ...(line.supersededById === null
      ? []
      : [`Read again as ${line.supersededById}, which stands in for this one.`]),
    ...(line.putAwayAt === null ? [] : [`Put away ${day(line.putAwayAt)}.`]),
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
