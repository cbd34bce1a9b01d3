import { describe, expect, it } from 'vitest';
import { checkPhoto } from '../../../analysis/check/checkPhoto.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { cutTiles } from '../../../analysis/tiles/cutTiles.ts';
import { renderScene } from '../../../fixtures/render.ts';
import { type SampleOptions, sampleScene } from '../../../fixtures/sample.ts';

/** What is found in a rendered photo of 1600 × 1200 px, read with its true marks. */
const findingsOf = async (seed: number, options: SampleOptions) => {
  const scene = await renderScene(sampleScene(seed, options));
  const photo = await decodePhoto(scene.bytes);
  const marks = parseMarks(scene.marks);
  return checkPhoto(photo, marks, cutTiles(photo, marks));
};

describe('a rendered photo without fault asks for nothing', () => {
  it.each([
    [8101, { card: 'grey-18', surround: 'plain' }],
    [8102, { card: 'white-grey-black', surround: 'patterned' }],
    [8103, { card: 'grey-scale', surround: 'dark' }],
    [8104, { card: 'chart-24', surround: 'sheet' }],
    // A light thread across a step near full depth, which no shadow is.
    [2, { card: 'chart-24', surround: 'plain' }],
  ] as const)('seed %s, %j', async (seed, options) => {
    expect((await findingsOf(seed, options)).filter((f) => f.severity === 'retake')).toEqual([]);
  });
});

describe('a rendered photo with a mistake is found', () => {
  it.each([
    ['cast-shadow', ['shadow-edge']],
    ['glare', ['glare']],
    ['blur', ['photo-blurred']],
    ['small', ['card-small', 'steps-small', 'photo-far']],
    ['mixed-light', ['light-mixed']],
  ] as const)('%s: %j', async (fault, codes) => {
    for (const [seed, card] of [
      [8201, 'white-grey-black'],
      [8202, 'chart-24'],
    ] as const) {
      const findings = await findingsOf(seed, { card, fault });
      const named = findings.filter((f) => (codes as readonly string[]).includes(f.code));
      expect(named.length).toBeGreaterThan(0);
      if (fault !== 'small') expect(named[0].severity).toBe('retake');
    }
  });

  it('clipped by a stop of overexposure, white having had 97 % of the scale: card-clipped at the white patch', async () => {
    for (const seed of [8203, 8204]) {
      const scene = sampleScene(seed, { card: 'white-grey-black', tone: 'plain' });
      const camera = { ...scene.camera, whiteEncoded: 0.97, overexposureStops: 1 };
      const rendered = await renderScene({ ...scene, camera });
      const photo = await decodePhoto(rendered.bytes);
      const marks = parseMarks(rendered.marks);
      const findings = checkPhoto(photo, marks, cutTiles(photo, marks));
      expect(findings.some((f) => f.code === 'card-clipped' && f.where === 'card patch "white"')).toBe(true);
    }
  });
});
