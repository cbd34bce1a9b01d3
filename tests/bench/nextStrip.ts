import type { Target } from '../../analysis/advice/advice.ts';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { renderScene } from '../../fixtures/render.ts';
import { sampleScene } from '../../fixtures/sample.ts';

/** What following the advised next strip once does to an answer. */
export interface NextResult {
  /** |error| in stops from the first strip, and from both fitted together. */
  readonly before: number;
  readonly after: number;
  readonly widthBefore: number;
  readonly widthAfter: number;
  readonly promised: number | null;
}

/** What the strips are made for: a depth in percent, or the shortest time to full depth. */
export type Wanted = number | 'full';

/** A coarse first strip, then the next strip that the reading advises, photographed anew. Null where none is advised. */
export const followNextStrip = async (seed: number, wanted: Wanted): Promise<NextResult | null> => {
  const options = {
    card: 'white-grey-black',
    surround: 'plain',
    steps: 5,
    base: true,
    widthPx: 1200,
    heightPx: 900,
  } as const;
  const target: Target = wanted === 'full' ? { kind: 'full' } : { kind: 'depth', percent: wanted };
  const spec = sampleScene(seed, options);
  const first = await renderScene(spec);
  const truth =
    wanted === 'full'
      ? first.truth.exposureForL(first.truth.deepestL + 1)
      : first.truth.exposureForDepth(wanted);
  const marks = parseMarks(first.marks);
  const reading = await readStrip(first.bytes, parseStrip(first.strip), { marks, target });
  const next = reading.advice.nextStrip;
  if (truth === null || !next || reading.curve.kind !== 'fitted' || reading.advice.seconds === null)
    return null;

  // The same dye and cloth, another photo: pose, light and camera are drawn anew.
  const again = sampleScene(seed, { ...options, steps: next.seconds.length, cameraSeed: seed + 500_000 });
  const strip = { ...spec.strip, seconds: next.seconds, stepDye: next.seconds.map(() => 1) };
  const second = await renderScene({ ...again, strip });
  const { points, covarianceL } = reading.curve.curve;
  const both = await readStrip(second.bytes, parseStrip(second.strip), {
    marks: parseMarks(second.marks),
    target,
    earlier: [{ points, covarianceL }],
  });
  if (both.advice.seconds === null) return null;
  const width = ({ low, high }: { low: number | null; high: number | null }) => Math.log2(high! / low!);
  return {
    before: Math.abs(Math.log2(reading.advice.seconds / truth)),
    after: Math.abs(Math.log2(both.advice.seconds / truth)),
    widthBefore: width(reading.advice),
    widthAfter: width(both.advice),
    promised: next.expectedTogetherStops,
  };
};
