/** Where a label would stand, in pixels. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/**
 * Moves labels down until none covers another.
 *
 * @param spots where they would stand.
 * @param wide, high room that a label takes.
 * @returns their y, in the order of the spots.
 */
export const keptApart = (spots: readonly Spot[], wide: number, high: number): readonly number[] => {
  const ys = spots.map(({ y }) => y);
  const order = spots.map((_, i) => i).sort((a, b) => spots[a].y - spots[b].y);
  order.forEach((index, rank) => {
    for (const other of order.slice(0, rank)) {
      const near = Math.abs(spots[index].x - spots[other].x) < wide;
      if (near && Math.abs(ys[index] - ys[other]) < high) ys[index] = ys[other] + high;
    }
  });
  return ys;
};

/** A name on at most two lines of so many letters, broken between words, shortened where it is longer. */
export const onTwoLines = (name: string, letters: number): readonly string[] => {
  const shortened = (text: string): string =>
    text.length <= letters ? text : `${text.slice(0, Math.max(1, letters - 1)).trimEnd()}…`;
  if (name.length <= letters) return [name];
  const gap = name.lastIndexOf(' ', letters);
  const at = gap > letters / 3 ? gap : letters;
  return [name.slice(0, at).trimEnd(), shortened(name.slice(at).trim())];
};
