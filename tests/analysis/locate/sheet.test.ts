import { describe, expect, it } from 'vitest';
import { readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { project } from '../../../analysis/locate/homography.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { mayShowMarkers, reducedGrey } from '../../../analysis/locate/sheetGrey.ts';
import { markerCorners, placeSheet, type SeenMarker } from '../../../analysis/locate/sheetMarkers.ts';
import { findOnSheet } from '../../../analysis/locate/sheetMarks.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { samplePaperScene } from '../../../fixtures/paper.ts';
import { photographPaper } from '../../../fixtures/paperPhoto.ts';
import { renderScene } from '../../../fixtures/render.ts';
import { sampleScene } from '../../../fixtures/sample.ts';
import { measureSheet, pageOf, SHEET_PLAN } from '../../bench/sheetMeasure.ts';
import { hasPdftoppm } from '../../helpers/printedSheet.ts';

/** A plane seen aslant: 4 px a millimetre, one side nearer. */
const ASLANT = [4, 0.6, 120, -0.3, 3.8, 90, 0.0006, 0.0002, 1];
const seenAt = (corner: number): SeenMarker => ({
  corner,
  quad: markerCorners(corner).map(([x, y]) => project(ASLANT, x, y)) as unknown as Quad,
});

describe('placing the sheet by its markers', () => {
  it('finds the plane from four markers and from three, within a hundredth of a pixel', () => {
    for (const corners of [
      [0, 1, 2, 3],
      [0, 1, 2],
      [1, 2, 3],
    ]) {
      const sheet = placeSheet(corners.map(seenAt));
      const [x, y] = project(sheet?.toPhoto ?? [], 128, 95);
      const [u, v] = project(ASLANT, 128, 95);
      expect(Math.hypot(x - u, y - v)).toBeLessThan(0.01);
    }
  });

  it('takes no sheet from two markers, from a marker seen twice, or from markers that do not lie as on one', () => {
    expect(placeSheet([0, 1].map(seenAt))).toBeNull();
    expect(placeSheet([seenAt(0), seenAt(1), seenAt(1)])).toBeNull();
    const moved: Quad = seenAt(2).quad.map(([x, y]) => [x - 300, y - 80]) as unknown as Quad;
    expect(placeSheet([seenAt(0), seenAt(1), seenAt(3), { corner: 2, quad: moved }])).toBeNull();
  });
});

const rendered = await hasPdftoppm();

describe.skipIf(!rendered)('a photo of the printed sheet (real PDF, printed by pdftoppm)', () => {
  it.each([
    ['with one cloth', 40_001, { pieces: 'contiguous', card: 'white-grey-black' }],
    ['with scraps', 40_004, { pieces: 'scraps', card: 'grey-scale' }],
    ['with one marker covered, tilted by 35°', 40_007, { covered: true, tiltDegrees: 35, card: 'chart-24' }],
    ['curled, with a grey patch alone', 40_012, { curl: true, card: 'grey-18', reach: 'usual' }],
  ] as const)(
    '%s is marked without a hand: every step and patch within the true one',
    async (_, seed, options) => {
      const found = await measureSheet(seed, { widthPx: 1600, heightPx: 1200, read: false, ...options });
      expect(found).toMatchObject({ right: true, codeRead: true });
      expect(found.leastOverlap).toBeGreaterThan(0.6);
    },
    60_000,
  );

  it('is read with marks of the sheet, its plan, the paper as surround, and a word that paper is no white', async () => {
    const page = await pageOf('a4');
    const scene = await photographPaper(
      samplePaperScene(40_020, page, { card: 'white-grey-black', pieces: 'contiguous', reach: 'usual' }),
      page,
    );
    const reading = await readStrip(scene.bytes, parseStrip(scene.strip));
    expect(new Set([...reading.marks.card, ...reading.marks.steps].map((m) => m.origin))).toEqual(
      new Set(['sheet']),
    );
    expect(reading.planId).toBe(SHEET_PLAN);
    expect(reading.illumination.method).toBe('surround');
    expect(reading.warnings.find(({ code }) => code === 'sheet-paper')?.message).toMatch(
      /never taken for white/,
    );
    const errors = reading.steps.map(({ L }, i) => Math.abs(L - scene.truth.steps[i].L));
    expect(Math.max(...errors)).toBeLessThan(3);
  }, 60_000);

  it('says what is missing on it where the cloth is not there', async () => {
    const page = await pageOf('letter');
    const paper = samplePaperScene(40_031, page, { card: 'white-grey-black' });
    const scene = await photographPaper({ ...paper, cloths: [] }, page);
    const outcome = await findOnSheet(await decodePhoto(scene.bytes), parseStrip(scene.strip));
    expect(outcome?.found).toMatchObject({ kind: 'not-found', what: 'strip' });
    expect(outcome?.planId).toBe(SHEET_PLAN);
  }, 60_000);
});

describe('a photo without a sheet', () => {
  it('is no sheet, whatever else is dark and square in it', async () => {
    const scene = await renderScene(
      sampleScene(40_040, { card: 'chart-24', surround: 'patterned', widthPx: 1200, heightPx: 900 }),
    );
    expect(await findOnSheet(await decodePhoto(scene.bytes), parseStrip(scene.strip))).toBeNull();
  });

  it('does not need OpenCV where nothing in it could be three markers', async () => {
    const scene = await renderScene(
      sampleScene(40_050, {
        card: 'white-grey-black',
        surround: 'plain',
        pieces: 'contiguous',
        widthPx: 1200,
        heightPx: 900,
      }),
    );
    expect(mayShowMarkers(reducedGrey(await decodePhoto(scene.bytes), 1600))).toBe(false);
  });
});
