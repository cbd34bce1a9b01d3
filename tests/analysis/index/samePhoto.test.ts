import { beforeAll, describe, expect, it } from 'vitest';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import type { Reading } from '../../../analysis/reading.ts';
import type { CameraSpec, OutputSpec } from '../../../fixtures/spec.ts';
import { drawn, HEIGHT_PX, readSpec, WIDTH_PX } from './scenes.ts';

// Finely compressed: at quality 80 the file alone moves a* and b* by 1.
const drawnScene = drawn(501, {
  card: 'white-grey-black',
  surround: 'plain',
  pieces: 'contiguous',
  dye: 'purple',
  cloth: 'cotton',
  steps: 6,
  base: true,
  tone: 'power',
});
const SCENE = { ...drawnScene, output: { ...drawnScene.output, quality: 95, subsampling: '4:4:4' as const } };

const readWith = async (output: Partial<OutputSpec>, camera: Partial<CameraSpec> = {}): Promise<Reading> => {
  const spec = { ...SCENE, output: { ...SCENE.output, ...output }, camera: { ...SCENE.camera, ...camera } };
  return (await readSpec(spec)).reading;
};

let first: Reading;
beforeAll(async () => {
  first = await readWith({});
}, 60_000);

const largestL = (other: Reading) => Math.max(...other.steps.map((s, i) => Math.abs(s.L - first.steps[i].L)));
const largestDeltaE = (other: Reading) => Math.max(...other.steps.map((s, i) => deltaE00(s, first.steps[i])));

describe('the same strip reads the same L*', () => {
  it('within 0.2 from a file stored lying on its side, EXIF orientation 6', async () => {
    expect(largestL(await readWith({ orientation: 6 }))).toBeLessThan(0.2);
  });

  it('within 0.2 from a PNG, the channels too: within 0.6 ΔE00', async () => {
    const other = await readWith({ format: 'png' });
    expect(other.photo.format).toBe('png');
    expect(largestL(other)).toBeLessThan(0.2);
    expect(largestDeltaE(other)).toBeLessThan(0.6);
  });

  it('within 0.2 from a Display P3 file, the channels too: within 0.8 ΔE00', async () => {
    const other = await readWith({ profile: 'display-p3' });
    expect(other.photo.profile).toContain('P3');
    expect(largestL(other)).toBeLessThan(0.2);
    expect(largestDeltaE(other)).toBeLessThan(0.8);
  });

  it.each([
    [640, 480],
    [1400, 1050],
  ])('within 0.3 from %d × %d pixels instead of 1000 × 750', async (widthPx, heightPx) => {
    expect([WIDTH_PX, HEIGHT_PX]).toEqual([1000, 750]);
    const other = await readWith({ widthPx, heightPx });
    expect(other.photo).toMatchObject({ widthPx, heightPx });
    expect(largestL(other)).toBeLessThan(0.3);
  });

  it.each([
    ['brighter: white at 93 %', { whiteEncoded: 0.93 }],
    ['with a cast: red 15 % up and blue 15 % down', { gains: [1.15, 1, 0.85] }],
  ] as const)('within 0.6 from a photo %s', async (_, camera) => {
    expect(largestL(await readWith({}, camera))).toBeLessThan(0.6);
  });
});
