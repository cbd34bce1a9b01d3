import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { FieldSample } from '../../../analysis/level/field.ts';
import { random } from '../../../fixtures/random.ts';

export const WIDTH_PX = 1200;
export const HEIGHT_PX = 900;
/** Half the diagonal: the unit of the field's terms. */
export const HALF_PX = 750;

/** ln light at a place, given in half diagonals from the photo's middle. */
export type LogLight = (u: number, v: number) => number;

export interface Texture {
  readonly sd: number;
  /** Half diagonals over which it falls to 1/e. */
  readonly length: number;
  /** Share of the variance that is independent from place to place. */
  readonly ownShare: number;
  /** Direction in which it hangs together eight times as far, radians; null for none. */
  readonly grain: number | null;
}

/** Places all over the photo, a surface of this texture under this light; the channels alike. */
export const scattered = (seed: number, count: number, light: LogLight, texture: Texture): FieldSample[] => {
  const rng = random(seed, 1);
  const places = Array.from({ length: count }, () => ({
    x: rng.between(0, WIDTH_PX),
    y: rng.between(0, HEIGHT_PX),
  }));
  const covariance = new Matrix(count, count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) {
      let dx = (places[i].x - places[j].x) / HALF_PX;
      let dy = (places[i].y - places[j].y) / HALF_PX;
      if (texture.grain !== null) {
        const [cos, sin] = [Math.cos(texture.grain), Math.sin(texture.grain)];
        [dx, dy] = [(dx * cos + dy * sin) / 8, dy * cos - dx * sin];
      }
      const together = texture.length > 0 ? Math.exp(-Math.hypot(dx, dy) / texture.length) : 0;
      covariance.set(
        i,
        j,
        (1 - texture.ownShare) * together + (i === j ? Math.max(texture.ownShare, 1e-9) : 0),
      );
    }
  const root = new CholeskyDecomposition(covariance).lowerTriangularMatrix;
  const normal = places.map(() => rng.normal());
  return places.map(({ x, y }, i) => {
    const own = normal.reduce((sum, z, j) => (j <= i ? sum + root.get(i, j) * z : sum), 0);
    const log = light((x - WIDTH_PX / 2) / HALF_PX, (y - HEIGHT_PX / 2) / HALF_PX) + texture.sd * own;
    return { x, y, logs: [log, log, log] };
  });
};
