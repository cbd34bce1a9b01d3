import { readFileSync } from 'node:fs';

/** The rows of a table of this folder, by column name; all values as text. */
export function table(name: string): readonly Readonly<Record<string, string>>[] {
  const lines = readFileSync(new URL(name, import.meta.url), 'utf8')
    .trim()
    .split(/\r?\n/);
  const cells = (line: string) =>
    [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((match) => match[1] ?? match[2] ?? '');
  const columns = cells(lines[0]);
  return lines.slice(1).map((line) => {
    const values = cells(line);
    return Object.fromEntries(columns.map((column, i) => [column, values[i] ?? '']));
  });
}

/** Columns of one row as numbers. */
export function numbers(row: Readonly<Record<string, string>>, ...columns: readonly string[]): number[] {
  return columns.map((column) => Number(row[column]));
}
