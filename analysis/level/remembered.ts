/**
 * The same places are asked for again and again: each is worked out once.
 *
 * @param of what belongs to a place, by its pixel.
 * @returns the same function, with a memory.
 */
export const remembered = (
  of: (x: number, y: number) => Float64Array,
): ((x: number, y: number) => Float64Array) => {
  const known = new Map<number, Map<number, Float64Array>>();
  return (x, y) => {
    let alongY = known.get(x);
    if (!alongY) {
      alongY = new Map();
      known.set(x, alongY);
    }
    const here = alongY.get(y) ?? of(x, y);
    alongY.set(y, here);
    return here;
  };
};
