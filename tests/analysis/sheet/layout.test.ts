import { describe, expect, it } from 'vitest';
import { loadVision } from '../../../analysis/locate/sheetVision.ts';
import {
  type Area,
  BARE_AREAS,
  CARD_PLACE,
  CAUTION_AREA,
  CLOTH_PLACE,
  CODE_AREA,
  FIELD,
  fieldOn,
  LABEL_AREA,
  MARKER_AT,
  PAPERS,
  RULER,
  WHITE_AREAS,
} from '../../../analysis/sheet/layout.ts';
import { SHEET_MARKERS } from '../../../analysis/sheet/markers.ts';
import { planCodeText, readPlanCode } from '../../../analysis/sheet/planCode.ts';

const overlap = (a: Area, b: Area): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

describe('the markers', () => {
  it('have the cells that OpenCV 4.12 draws for these numbers of DICT_ARUCO_MIP_36h12', async () => {
    const { vision } = await loadVision();
    const dictionary = vision.getPredefinedDictionary(vision.DICT_ARUCO_MIP_36h12) as unknown as {
      generateImageMarker(id: number, sidePx: number, into: unknown, border: number): void;
      delete(): void;
    };
    for (const { id, bits } of SHEET_MARKERS) {
      const image = new vision.Mat();
      dictionary.generateImageMarker(id, 8, image, 1);
      const rows = Array.from({ length: 8 }, (_, row) =>
        Array.from(image.data.subarray(8 * row, 8 * row + 8), (value) => (value > 127 ? '1' : '0')).join(''),
      );
      image.delete();
      expect(rows[0]).toBe('00000000');
      expect(rows.slice(1, 7).map((row) => row.slice(1, 7))).toEqual(bits);
    }
    dictionary.delete();
  });

  it('leave no handler of last errors behind in the process when OpenCV is loaded', async () => {
    const before = process.listenerCount('uncaughtException');
    await loadVision();
    expect(process.listenerCount('uncaughtException')).toBe(before);
    for (const event of ['uncaughtException', 'unhandledRejection'] as const)
      expect(
        process.listeners(event as 'uncaughtException').some((l) => /ExitStatus|abort\(/.test(`${l}`)),
      ).toBe(false);
  });
});

describe('the layout in millimetres', () => {
  it('keeps places, label, code, cautions and markers apart, all within the field', () => {
    const areas = [
      ...MARKER_AT,
      CARD_PLACE,
      CLOTH_PLACE,
      LABEL_AREA,
      CODE_AREA,
      CAUTION_AREA,
      { x: RULER.x, y: RULER.y - RULER.tallMm, width: RULER.lengthMm, height: RULER.tallMm },
    ];
    areas.forEach((area, i) => {
      expect(area.x).toBeGreaterThanOrEqual(0);
      expect(area.x + area.width).toBeLessThanOrEqual(FIELD.width);
      expect(area.y + area.height).toBeLessThanOrEqual(FIELD.height);
      for (const other of areas.slice(i + 1)) expect(overlap(area, other)).toBe(false);
    });
  });

  it('has nothing printed on what it calls bare', () => {
    for (const bare of [...BARE_AREAS, ...WHITE_AREAS])
      for (const printed of [...MARKER_AT, LABEL_AREA, CODE_AREA, CAUTION_AREA])
        expect(overlap(bare, printed)).toBe(false);
  });

  it('leaves at least 10 mm of margin on A4 (ISO 216) and on letter paper', () => {
    for (const paper of ['a4', 'letter'] as const) {
      const { x, y } = fieldOn(paper);
      expect(Math.min(x, y)).toBeGreaterThanOrEqual(10);
      expect(x * 2 + FIELD.width).toBeCloseTo(PAPERS[paper].widthMm, 6);
    }
  });

  it('has room for a strip of 200 × 60 mm with 6 mm of white round it', () => {
    expect(CLOTH_PLACE.width).toBeGreaterThanOrEqual(212);
    expect(CLOTH_PLACE.height).toBeGreaterThanOrEqual(72);
  });
});

describe('the text of the square code', () => {
  it('gives back the id of a plan, whatever the case', () => {
    const id = '0b8f6c3e-7d64-4c1e-9d8a-3a5b6c7d8e9f';
    expect(readPlanCode(planCodeText(id))).toBe(id);
    expect(readPlanCode(planCodeText(id).toLowerCase())).toBe(id);
  });

  it('keeps to the 45 characters of the alphanumeric mode of ISO/IEC 18004', () => {
    expect(planCodeText('seaweed-7')).toMatch(/^[0-9A-Z $%*+\-./:]+$/);
  });

  it('is nothing where other text stands in a code, and refuses ids with other characters', () => {
    expect(readPlanCode('https://example.org')).toBeNull();
    expect(readPlanCode('TONESTEP:PLAN:')).toBeNull();
    expect(() => planCodeText('harbour festival')).toThrow(/small letters/);
    expect(() => planCodeText('a'.repeat(41))).toThrow(/small letters/);
  });
});
