import sharp from 'sharp';
import { yFromLightness } from '../../../analysis/colour/lightness.ts';
import type { Quad } from '../../../analysis/locate/marks.ts';
import { INDIGO, knownL } from '../across/knownCurve.ts';
import { normals } from '../across/noise.ts';

const WIDTH = 1200;
const HEIGHT = 900;
const TABLE_Y = 0.4;

export interface PaintedBed {
  /** Dose of the lamp at a place of the sheet, from 0 (left, top) to 1; 1 where it is as planned. */
  readonly dose: (across: number, down: number) => number;
  /** Exposure of the sheet where the dose is 1; indigo is at half depth after 120 s. */
  readonly seconds?: number;
  /** Light on the table, places from −1 to 1 over the photo. */
  readonly light?: (across: number, down: number) => number;
  /** The sheet lies turned end for end in the photo. */
  readonly turned?: boolean;
  /** Table to be seen beside the sheet, pixels; 150 unless said otherwise. */
  readonly marginPx?: number;
  /** Card and sheet fill the whole photo. */
  readonly filling?: boolean;
  readonly seed?: number;
}

const encode = (light: number): number => {
  const held = Math.min(1, Math.max(0, light));
  return 255 * (held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055);
};

const rectangle = (left: number, top: number, right: number, bottom: number): Quad => [
  [left, top],
  [right, top],
  [right, bottom],
  [left, bottom],
];

/**
 * A photo of a dyed sheet beside three neutral patches, painted from formulas alone: indigo's known curve, a lamp's dose,
 * the table light, sRGB [IEC 61966-2-1], grain of 1.5 %.
 */
export const paintedBed = async (bed: PaintedBed) => {
  const {
    dose,
    seconds = 120,
    light = () => 1,
    turned = false,
    marginPx = 150,
    filling = false,
    seed = 1,
  } = bed;
  const edge = filling ? 0 : marginPx;
  const sheet = {
    left: 180 + edge,
    top: edge,
    right: WIDTH - edge,
    bottom: HEIGHT - edge,
  };
  const patches = [
    { name: 'white', Y: 0.9 },
    { name: 'grey', Y: 0.18 },
    { name: 'black', Y: 0.035 },
  ].map((patch, i) => ({
    ...patch,
    ...(filling
      ? { left: 0, top: 300 * i, right: 180, bottom: 300 * i + 300 }
      : { left: 40, top: 150 + 210 * i, right: 160, bottom: 330 + 210 * i }),
  }));
  const grain = normals(seed);
  const codes = new Uint8Array(WIDTH * HEIGHT * 3);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const patch = patches.find((p) => x >= p.left && x < p.right && y >= p.top && y < p.bottom);
      const onSheet = x >= sheet.left && x < sheet.right && y >= sheet.top && y < sheet.bottom;
      let Y = patch?.Y ?? TABLE_Y;
      if (onSheet) {
        const across = (x - sheet.left) / (sheet.right - sheet.left);
        const down = (y - sheet.top) / (sheet.bottom - sheet.top);
        const at = turned ? dose(1 - across, 1 - down) : dose(across, down);
        Y = yFromLightness(knownL(INDIGO, seconds * at));
      }
      const lit = Y * 0.8 * light((2 * x) / WIDTH - 1, (2 * y) / HEIGHT - 1) * (1 + 0.015 * grain());
      codes.fill(Math.round(encode(lit)), 3 * (y * WIDTH + x), 3 * (y * WIDTH + x) + 3);
    }
  const bytes = new Uint8Array(
    await sharp(codes, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } })
      .png({ compressionLevel: 1 })
      .toBuffer(),
  );
  const upright = rectangle(sheet.left, sheet.top, sheet.right, sheet.bottom);
  return {
    bytes,
    marks: {
      card: patches.map((p) => ({ name: p.name, quad: rectangle(p.left, p.top, p.right, p.bottom) })),
      // Corners go round as the sheet lay on the bed.
      sheet: { quad: turned ? [upright[2], upright[3], upright[0], upright[1]] : upright },
    },
  };
};
