export type Side = 'left' | 'right';

/** Lines of a table whose columns are as wide as their widest entry, two blanks apart. */
export const columns = (rows: readonly (readonly string[])[], sides: readonly Side[]): string[] => {
  const widths = sides.map((_, i) => Math.max(0, ...rows.map((row) => (row[i] ?? '').length)));
  return rows.map((row) =>
    sides
      .map((side, i) =>
        side === 'left' ? (row[i] ?? '').padEnd(widths[i]) : (row[i] ?? '').padStart(widths[i]),
      )
      .join('  ')
      .trimEnd(),
  );
};
