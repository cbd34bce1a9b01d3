import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import ColorJs from 'colorjs.io';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CgatsOptions, cgatsText } from '../../../server/exchange/cgats.ts';
import { runs } from '../../helpers/runs.ts';
import { tolerance } from '../../helpers/tolerance.ts';
import { demoReading, renamed } from './demoReading.ts';

interface It8 {
  readonly sheetType: string;
  readonly properties: Readonly<Record<string, string>>;
  readonly weighting: Readonly<Record<string, string>>;
  readonly fields: readonly string[];
  readonly texts: readonly (readonly string[])[];
  readonly numbers: readonly (readonly number[])[];
}

const script = join(import.meta.dirname, 'readIt8.py');
const run = (text: string) => spawnSync('python3', [script], { input: text, encoding: 'utf8' });

/** Little CMS 2, Debian's liblcms2-2: an implementation of CGATS.17 that this project does not ship. */
const throughLittleCms = (text: string): It8 => {
  const { status, stdout, stderr } = run(text);
  if (status !== 0) throw new Error(`Little CMS refuses the file: ${stderr}`);
  return JSON.parse(stdout);
};

const probe = run('');
const absent = probe.error !== undefined || probe.status === 3;
const OPTIONS: CgatsOptions = { created: '2026-06-30', originator: 'Tonestep 0.1.0' };
const { reading } = await demoReading('hemp-banner-blue');

describe.skipIf(absent)(
  'a CGATS.17 file as Little CMS reads it (skipped without python3 and liblcms2-2)',
  () => {
    const it8 = throughLittleCms(cgatsText(reading, OPTIONS));
    const column = (name: string) => it8.numbers.map((row) => row[it8.fields.indexOf(name)]);

    test('is a CGATS.17 sheet of seven sets and twelve fields', () => {
      expect(it8.sheetType).toBe('CGATS.17');
      expect(it8.texts.length).toBe(7);
      expect(it8.fields).toEqual([
        'SAMPLE_ID',
        'SAMPLE_NAME',
        'EXPOSURE_SECONDS',
        'LAB_L',
        'LAB_A',
        'LAB_B',
        'XYZ_X',
        'XYZ_Y',
        'XYZ_Z',
        'D_VIS',
        'U_LAB_L',
        'VERDICT',
      ]);
    });

    test('says who made it, when, of what, and by which light and observer', () => {
      expect(it8.properties).toMatchObject({
        ORIGINATOR: 'Tonestep 0.1.0',
        CREATED: '2026-06-30',
        DESCRIPTOR: 'Test strip: light-set blue, hemp for the harbour banners, blacklight tubes, 30 cm',
        MATERIAL: 'hemp for the harbour banners',
      });
      expect(it8.properties.MEASUREMENT_SOURCE).toContain('D65');
      expect(it8.weighting).toEqual({ ILLUMINANT: 'D65', OBSERVER: '2 degree' });
    });

    test("holds each step's exposure, L*, a*, b*, density and u(L*) to four decimals", () => {
      const fields = {
        EXPOSURE_SECONDS: 'seconds',
        LAB_L: 'L',
        LAB_A: 'a',
        LAB_B: 'b',
        D_VIS: 'density',
        U_LAB_L: 'uL',
      } as const;
      for (const [field, key] of Object.entries(fields))
        column(field).forEach((value, i) => {
          expect(Math.abs(value - reading.steps[i][key])).toBeLessThan(tolerance.fourDecimals);
        });
    });

    test('names samples by their time, the base by its name', () => {
      expect(it8.texts.map((row) => row[1])).toEqual([
        'base',
        '01:00',
        '01:45',
        '03:00',
        '05:20',
        '09:20',
        '16:40',
      ]);
      expect(it8.texts.map((row) => row[11])).toEqual(reading.steps.map((step) => step.verdict));
    });

    test.each(['D65', 'D50'] as const)(
      "has XYZ and CIELAB for %s as colorjs.io's spaces have them",
      (white) => {
        const sheet = throughLittleCms(cgatsText(reading, { ...OPTIONS, white }));
        const value = (row: number, name: string) => sheet.numbers[row][sheet.fields.indexOf(name)];
        reading.steps.forEach(({ L, a, b }, row) => {
          const colour = new ColorJs('lab-d65', [L, a, b]);
          const lab = white === 'D65' ? [L, a, b] : colour.to('lab').coords;
          const xyz = colour.to(white === 'D65' ? 'xyz-d65' : 'xyz-d50').coords;
          ['LAB_L', 'LAB_A', 'LAB_B'].forEach((name, i) => {
            expect(Math.abs(value(row, name) - Number(lab[i]))).toBeLessThan(2 * tolerance.fourDecimals);
          });
          ['XYZ_X', 'XYZ_Y', 'XYZ_Z'].forEach((name, i) => {
            expect(Math.abs(value(row, name) - 100 * Number(xyz[i]))).toBeLessThan(
              2 * tolerance.fourDecimals,
            );
          });
        });
        expect(sheet.weighting.ILLUMINANT).toBe(white);
      },
    );

    test.each([
      ['blue "deep"', "blue ''deep''"],
      ["d'azur", "d'azur"],
      ['two\nlines\r\nand\ttab', 'two lines and tab'],
      ['línea de añil 藍 🟦', 'línea de añil 藍 🟦'],
      ['END_DATA', 'END_DATA'],
      ['back\\slash # no comment', 'back\\slash # no comment'],
      ['x'.repeat(500), `${'x'.repeat(187)}…`],
    ])('takes any name: %j', (dye, read) => {
      const { properties, texts } = throughLittleCms(cgatsText(renamed(reading, dye, ''), OPTIONS));
      expect(texts.length).toBe(7);
      expect(properties.DESCRIPTOR.startsWith(`Test strip: ${read}`)).toBe(true);
    });

    test('is read whole whatever the names hold', () => {
      fc.assert(
        fc.property(fc.string({ unit: 'binary' }), fc.string({ unit: 'binary' }), (dye, cloth) => {
          const sheet = throughLittleCms(cgatsText(renamed(reading, dye, cloth), OPTIONS));
          expect(sheet.numbers.map((row) => row[2])).toEqual(reading.steps.map((step) => step.seconds));
        }),
        { numRuns: runs('random names through CGATS', 25, 8) },
      );
    });
  },
);
