import { execFileSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Color from 'colorjs.io';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { bradford } from '../../../analysis/colour/adaptation.ts';
import { deltaE00 } from '../../../analysis/colour/difference.ts';
import type { Lab } from '../../../analysis/colour/lab.ts';
import { labToLabD50 } from '../../../analysis/colour/labD50.ts';
import { applyMatrix3, type Vector3 } from '../../../analysis/colour/matrix3.ts';
import { whiteD50Icc, whiteD65 } from '../../../analysis/colour/white.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { numbers, table } from '../../reference/table.ts';
import { type Codes, pngWithIcc, rawPng, rewritten, stripePixel, stripesPng } from './files.ts';
import { cornerTableTag, gammaTag, iccProfile, matrixIcc, parametricTag, sampledTag } from './iccBuilder.ts';
import { labAt, labOfRows, lightAt } from './reading.ts';

/** Colours of a strip photo: cloth white, card greys, dyes from pale to deep, all inside sRGB. */
const scene: readonly Codes[] = [
  [241, 238, 229],
  [118, 118, 118],
  [46, 46, 47],
  [176, 196, 214],
  [92, 140, 181],
  [38, 82, 141],
  [24, 45, 96],
  [196, 160, 60],
  [150, 70, 110],
];

/** What colorjs.io, an independent library, makes of encoded values of one of its spaces: CIELAB, D65. */
function reference(space: string, [r, g, b]: Codes, maxCode = 255): Lab {
  const [L, a, bStar] = new Color(space, [r / maxCode, g / maxCode, b / maxCode]).to('lab-d65')
    .coords as number[];
  return { L, a, b: bStar };
}

/** Colorants as a profile stores them: colorjs.io's XYZ of full red, green and blue, brought to the D50 of ICC. */
function colorants(linearSpace: string): readonly number[][] {
  const toIccD50 = bradford(whiteD65, whiteD50Icc);
  return [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ].map((rgb) => [
    ...applyMatrix3(
      toIccD50,
      new Color(linearSpace, rgb as [number, number, number]).to('xyz-d65').coords as Vector3,
    ),
  ]);
}

/** ICC.1:2022 10.18 and IEC 61966-2-1: sRGB's curve as parametric kind 3. */
const srgbCurve = parametricTag(3, [2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045]);
const p3Icc = matrixIcc('Test P3', colorants('p3-linear'), srgbCurve);

async function expectScene(space: string, icc: Uint8Array, within: number, bits: 8 | 16 = 8) {
  const maxCode = bits === 8 ? 255 : 65535;
  const codes = scene.map(
    (colour) => colour.map((code) => Math.round((code * maxCode) / 255)) as unknown as Codes,
  );
  const photo = await decodePhoto(await stripesPng(codes, icc, bits));
  expect(photo.maxCode).toBe(maxCode);
  expect(photo.profile.origin).toBe('embedded');
  codes.forEach((code, i) => {
    const lab = labAt(photo, stripePixel(photo, i, codes.length));
    expect(deltaE00(lab, reference(space, code, maxCode))).toBeLessThan(within);
  });
}

describe('a photo without a profile', () => {
  // Source: tests/reference/srgb_lab_check.csv and colorjs.io.
  it('is read as sRGB: 31 triples to their Lab within 1e-4', async () => {
    const rows = table('srgb_lab_check.csv');
    const codes = rows.map((row) => numbers(row, 'R8', 'G8', 'B8') as unknown as Codes);
    const photo = await decodePhoto(await stripesPng(codes));
    expect(photo.profile).toMatchObject({ name: 'sRGB', origin: 'assumed-srgb' });
    rows.forEach((row, i) => {
      const lab = labAt(photo, stripePixel(photo, i, rows.length));
      const [L, a, b] = numbers(row, 'L_D65', 'a_D65', 'b_D65');
      const library = reference('srgb', codes[i]);
      for (const [actual, tabled, other] of [
        [lab.L, L, library.L],
        [lab.a, a, library.a],
        [lab.b, b, library.b],
      ]) {
        expect(Math.abs(actual - tabled)).toBeLessThan(1e-4);
        expect(Math.abs(actual - other)).toBeLessThan(1e-4);
      }
    });
  });

  // Source: tests/reference/rgb_spaces.csv, exact from the primaries of IEC 61966-2-1.
  it('has sRGB’s exact matrix', async () => {
    const photo = await decodePhoto(await stripesPng(scene));
    const row = table('rgb_spaces.csv').find(
      ({ space, item, definition }) =>
        space === 'sRGB' && item === 'linear RGB->XYZ' && definition.startsWith('exact'),
    )!;
    const exact = numbers(row, 'v1', 'v2', 'v3', 'v4', 'v5', 'v6', 'v7', 'v8', 'v9');
    exact.forEach((value, i) => {
      expect(Math.abs(photo.profile.toXyz65[i] - value)).toBeLessThan(1e-12);
    });
  });
});

describe('a photo in Display P3', () => {
  // Source: tests/reference/rgb_spaces.csv, exact from P3's primaries; the file stores colorants in steps of 1/65536.
  it('has P3’s matrix for D65 within 2e-4', async () => {
    const photo = await decodePhoto(await stripesPng(scene, p3Icc));
    expect(photo.profile.name).toBe('Test P3');
    const row = table('rgb_spaces.csv').find(
      ({ space, item }) => space === 'Display P3' && item === 'linear RGB->XYZ',
    )!;
    numbers(row, 'v1', 'v2', 'v3', 'v4', 'v5', 'v6', 'v7', 'v8', 'v9').forEach((value, i) => {
      expect(Math.abs(photo.profile.toXyz65[i] - value)).toBeLessThan(tolerance.iccFixedPoint);
    });
  });

  it('reads P3 codes as colorjs.io does within 0.05 ΔE00, in 8 and in 16 bit', async () => {
    await expectScene('p3', p3Icc, 0.05);
    await expectScene('p3', p3Icc, 0.05, 16);
  });

  // P3 codes from colorjs.io. Both files hold the same camera noise, as photos do, so that means are not held to whole
  // codes; the areas are 64 × 12 px.
  it.each([
    ['jpeg', 8],
    ['png', 8],
    ['webp', 8],
    ['tiff', 8],
    ['avif', 8],
    ['png', 16],
    ['tiff', 16],
  ] as const)('as %s in %i bit agrees with the same scene in sRGB within 0.3 ΔE00', async (format, bits) => {
    const plain = await decodePhoto(await rewritten(await noisyScenePng('srgb', bits), format));
    const wide = await decodePhoto(await rewritten(await noisyScenePng('p3', bits, p3Icc), format));
    expect(wide).toMatchObject({ format, maxCode: bits === 8 ? 255 : 65535, profile: { name: 'Test P3' } });
    scene.forEach((_, i) => {
      const [first, last] = [16 * i + 2, 16 * i + 13];
      const difference = deltaE00(labOfRows(wide, first, last), labOfRows(plain, first, last));
      expect(difference).toBeLessThan(tolerance.sameSceneDeltaE00);
    });
    // Read as sRGB, the P3 codes would be about 2 ΔE00 off: the agreement is the profile's doing.
    const ignored = { ...wide, profile: plain.profile };
    expect(deltaE00(labOfRows(ignored, 82, 93), labOfRows(plain, 82, 93))).toBeGreaterThan(1);
  });

  // Source: colorjs.io: P3 0/210/220 has red -0.33 in linear sRGB.
  it('keeps a saturated cyan that sRGB can’t hold', async () => {
    const cyan: Codes = [0, 210, 220];
    const photo = await decodePhoto(await stripesPng([cyan], p3Icc));
    const lab = labAt(photo, stripePixel(photo, 0, 1));
    expect(deltaE00(lab, reference('p3', cyan))).toBeLessThan(0.05);
    const inSrgb = new Color('p3', [0, 210 / 255, 220 / 255]).to('srgb');
    expect(inSrgb.inGamut()).toBe(false);
    const clipped = inSrgb.toGamut({ method: 'clip' }).to('lab-d65').coords as number[];
    expect(deltaE00(lab, { L: clipped[0], a: clipped[1], b: clipped[2] })).toBeGreaterThan(3);
  });
});

describe('other matrix profiles', () => {
  it('reads Adobe RGB (exponent 2.2 and 51/256) as colorjs.io does within 0.05 ΔE00', async () => {
    await expectScene('a98rgb', matrixIcc('Test A98', colorants('a98rgb-linear'), gammaTag(563 / 256)), 0.05);
  });

  it('reads ProPhoto (parametric kind 3) as colorjs.io does within 0.05 ΔE00', async () => {
    const curve = parametricTag(3, [1.8, 1, 0, 1 / 16, 16 / 512]);
    await expectScene('prophoto', matrixIcc('Test ProPhoto', colorants('prophoto-linear'), curve), 0.05);
  });

  it('reads a curve of 1024 samples as colorjs.io does within 0.05 ΔE00', async () => {
    const samples = Array.from(
      { length: 1024 },
      (_, i) => new Color('srgb', [i / 1023, 0, 0]).to('srgb-linear').coords[0],
    );
    await expectScene(
      'srgb',
      matrixIcc('Test table', colorants('srgb-linear'), sampledTag(samples as number[])),
      0.05,
    );
  });

  // Source: ICC.1:2022 table 68, functions of the parametric curves.
  const [g, a, b, c, d, e, f] = [2.1, 0.9, 0.1, 0.3, 0.05, 0.02, 0.01];
  it.each([
    [0, [g], (x: number) => x ** g],
    [1, [g, a, b], (x: number) => (x >= -b / a ? (a * x + b) ** g : 0)],
    [2, [g, a, b, c], (x: number) => (x >= -b / a ? (a * x + b) ** g + c : c)],
    [3, [g, a, b, c, d], (x: number) => (x >= d ? (a * x + b) ** g : c * x)],
    [4, [g, a, b, c, d, e, f], (x: number) => (x >= d ? (a * x + b) ** g + e : c * x + f)],
  ] as const)(
    'reads parametric curves of kind %i within 2e-5 of full light',
    async (kind, parameters, curve) => {
      const icc = matrixIcc('Test curve', colorants('srgb-linear'), parametricTag(kind, parameters));
      const photo = await decodePhoto(await stripesPng(scene, icc));
      for (let code = 0; code <= 255; code++) {
        const expected = curve(code / 255);
        expect(Math.abs(photo.profile.linear[0][code] - expected)).toBeLessThan(tolerance.linearLight);
      }
    },
  );

  // Source: Little CMS's transicc, where it is installed; D50, 16-bit output.
  const transicc = findTransicc();
  it.skipIf(transicc === null)('agrees with transicc’s Lab within 0.02', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'icc-'));
    const path = join(folder, 'a98.icc');
    const icc = matrixIcc('Test A98', colorants('a98rgb-linear'), gammaTag(563 / 256));
    writeFileSync(path, icc);
    const photo = await decodePhoto(await stripesPng(scene, icc));
    const answer = execFileSync(transicc!, [`-i${path}`, '-o*Lab', '-t1', '-n'], {
      input: `${scene.flat().join('\n')}\n`,
      encoding: 'utf8',
      stdio: ['pipe', 'pipe', 'ignore'],
    });
    const lines = answer
      .trim()
      .split('\n')
      .map((line) => line.trim().split(/\s+/).map(Number));
    scene.forEach((_, i) => {
      const lab = labToLabD50(labAt(photo, stripePixel(photo, i, scene.length)));
      expect(Math.abs(lab.L - lines[i][0])).toBeLessThan(0.02);
      expect(Math.abs(lab.a - lines[i][1])).toBeLessThan(0.02);
      expect(Math.abs(lab.b - lines[i][2])).toBeLessThan(0.02);
    });
  });
});

describe('a grey photo', () => {
  it('takes its light from its grey profile: exponent 1.8, three equal channels', async () => {
    const icc = iccProfile('GRAY', 'Test grey', { kTRC: gammaTag(461 / 256) });
    const ramp = Uint8Array.from({ length: 64 * 64 }, (_, i) => i & 255);
    const png = await sharp(ramp, { raw: { width: 64, height: 64, channels: 1 } })
      .toColourspace('b-w')
      .png()
      .toBuffer();
    const photo = await decodePhoto(pngWithIcc(png, icc));
    for (const code of [1, 20, 128, 200, 255]) {
      const light = lightAt(photo, code);
      for (const channel of light)
        expect(Math.abs(channel - (code / 255) ** (461 / 256))).toBeLessThan(tolerance.linearLight);
      expect(Math.hypot(labAt(photo, code).a, labAt(photo, code).b)).toBeLessThan(1e-3);
    }
  });
});

describe('a profile of tables', () => {
  // The tables hold P3: sRGB's curve, then a cube whose corners add up. Source: colorjs.io.
  const [r, g, b] = colorants('p3-linear');
  const curve = Array.from(
    { length: 4096 },
    (_, i) => new Color('srgb', [i / 4095, 0, 0]).to('srgb-linear').coords[0],
  );
  const icc = iccProfile('RGB ', 'Test scanner', {
    A2B0: cornerTableTag(curve as number[], (rgb) =>
      [0, 1, 2].map((i) => Math.max(0, rgb[0] * r[i] + rgb[1] * g[i] + rgb[2] * b[i])),
    ),
  });

  it.each([8, 16] as const)('reads %i-bit codes as colorjs.io does within 0.3 ΔE00', async (bits) => {
    const maxCode = bits === 8 ? 255 : 65535;
    const colours = [...scene, [0, 210, 220] as Codes];
    const codes = colours.map(
      (colour) => colour.map((code) => Math.round((code * maxCode) / 255)) as unknown as Codes,
    );
    const photo = await decodePhoto(await stripesPng(codes, icc, bits));
    expect(photo).toMatchObject({ maxCode: 65535, profile: { name: 'Test scanner', origin: 'embedded' } });
    codes.forEach((code, i) => {
      const lab = labAt(photo, stripePixel(photo, i, codes.length));
      expect(deltaE00(lab, reference('p3', code, maxCode))).toBeLessThan(0.3);
    });
  });

  it('remembers which pixels the file had clipped', async () => {
    const photo = await decodePhoto(
      await stripesPng(
        [
          [255, 100, 100],
          [200, 100, 100],
          [90, 0, 90],
          [90, 3, 90],
        ],
        icc,
      ),
    );
    const marked = [0, 1, 2, 3].map((i) => photo.clippedInFile?.[stripePixel(photo, i, 4)]);
    expect(marked).toEqual([1, 0, 1, 0]);
  });
});

/** The scene in stripes of 64 × 16 px with noise of ±2 codes of 255, encoded for a space; the same noise each time. */
async function noisyScenePng(space: 'srgb' | 'p3', bits: 8 | 16, icc?: Uint8Array): Promise<Buffer> {
  const maxCode = bits === 8 ? 255 : 65535;
  let state = 20250611;
  const noise = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return 4 * (state / 2 ** 32 - 0.5);
  };
  const codes = scene.flatMap((colour) =>
    Array.from({ length: 64 * 16 }, () => {
      const encoded = colour.map((code) => (code + noise()) / 255) as [number, number, number];
      const inSpace = space === 'srgb' ? encoded : (new Color('srgb', encoded).to('p3').coords as number[]);
      return inSpace.map((value) => Math.round(Math.min(Math.max(value, 0), 1) * maxCode));
    }).flat(),
  );
  const png = await rawPng(bits === 8 ? Uint8Array.from(codes) : Uint16Array.from(codes), 64);
  return icc === undefined ? png : pngWithIcc(png, icc);
}

function findTransicc(): string | null {
  try {
    return execFileSync('which', ['transicc'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    }).trim();
  } catch {
    return null;
  }
}
