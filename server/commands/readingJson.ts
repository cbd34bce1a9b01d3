import type { Reading } from '../../analysis/reading.ts';

/** A reading in the shape that `--json` promises: the curve laid open, everything else as it stands. */
export const readingJson = (reading: Reading): object => {
  const { curve, ...rest } = reading;
  return {
    ...rest,
    curve: curve.kind === 'fitted' ? curve.curve : { model: null, kind: curve.kind, message: curve.message },
  };
};
