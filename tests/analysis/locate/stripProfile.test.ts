import { describe, expect, it } from 'vitest';
import { unitSquareTo } from '../../../analysis/locate/homography.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { sampleAlong } from '../../../analysis/locate/stripProfile.ts';
import { toneField } from '../../../analysis/locate/toneField.ts';

const [widthPx, heightPx] = [400, 300];

/** A table under light that falls by 30 % from top to bottom, with a cloth of 60 % of its brightness at 140..260 × 100..180. */
const tableWithCloth = () => {
  const rgb = new Float32Array(3 * widthPx * heightPx);
  for (let y = 0; y < heightPx; y++)
    for (let x = 0; x < widthPx; x++) {
      const cloth = x >= 140 && x < 260 && y >= 100 && y < 180 ? 0.6 : 1;
      rgb.fill(0.7 * cloth * (1 - (0.3 * y) / heightPx), 3 * (y * widthPx + x), 3 * (y * widthPx + x) + 3);
    }
  const clipped = new Uint8Array(widthPx * heightPx);
  return toneField({ widthPx, heightPx, rgb, clipped }, [0.2126, 0.7152, 0.0722]);
};

describe('a band read along its length', () => {
  const band: Quad = [
    [140, 100],
    [260, 100],
    [260, 180],
    [140, 180],
  ];
  const square = unitSquareTo(band);
  if (!square) throw new Error('no square');
  const along = sampleAlong(tableWithCloth(), square, -0.9, 1.9, 1 / 60, { redGreen: 0, blueGreen: 0 });
  if (!along) throw new Error('no profile');
  const at = (t: number): number => Math.floor((t - along.start) * 60);

  it('takes cloth for cloth', () => {
    for (const t of [0.2, 0.5, 0.8]) expect(along.profile.cloth[at(t)]).toBeGreaterThan(0.95);
  });

  it('takes a table under light that falls by 30 % across the photo for no cloth', () => {
    for (const t of [-0.8, -0.5, -0.3, 1.3, 1.5, 1.8]) expect(along.profile.cloth[at(t)]).toBeLessThan(0.1);
  });
});
