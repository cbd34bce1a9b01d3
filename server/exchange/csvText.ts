import { stringify } from 'csv-stringify/sync';

export type CsvCell = string | number | boolean | null;

/** A name of a column, its unit in it, and how it is read off a row. */
export type CsvColumn<Row> = readonly [header: string, cell: (row: Row) => CsvCell];

/** What makes a spreadsheet take text for a formula, in its full-width forms too [CWE-1236]. */
const FORMULA = /^[\s\p{Cc}]*[=+\-@＝＋－＠|]|^[\t\r\n]/u;

/** Text that a spreadsheet shows and never runs: an apostrophe goes before what could be a formula. */
export const harmlessText = (text: string): string => (FORMULA.test(text) ? `'${text}` : text);

/**
 * Rows as CSV: comma, decimal point, CRLF, quotes where needed [RFC4180]; UTF-8 with its mark, because spreadsheets take
 * unmarked text for a local character set. Numbers are written unrounded; what does not exist is an empty cell.
 */
export const csvText = <Row>(columns: readonly CsvColumn<Row>[], rows: readonly Row[]): string =>
  stringify(
    [
      columns.map(([header]) => header),
      ...rows.map((row) =>
        columns.map(([, cell]) => {
          const value = cell(row);
          if (typeof value === 'string') return harmlessText(value);
          if (typeof value === 'boolean') return value ? 'yes' : 'no';
          return value === null ? '' : String(value);
        }),
      ),
    ],
    { record_delimiter: 'windows', bom: true },
  );
