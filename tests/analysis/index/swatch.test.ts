import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readStrip } from '../../../analysis/index.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';

const demo = join(import.meta.dirname, '../../../fixtures/demo/hemp-banner-blue');
const photo = readFileSync(`${demo}.jpg`);
const strip = parseStrip(JSON.parse(readFileSync(`${demo}.strip.json`, 'utf8')));
const given = JSON.parse(readFileSync(`${demo}.marks.json`, 'utf8'));

describe('a swatch marked in the photo', () => {
  it('that lies on the 180 s step is matched at about 180 s, within ΔE00 1', async () => {
    const marks = parseMarks({ ...given, swatch: { quad: given.steps[3].quad } });
    const { advice, steps } = await readStrip(photo, strip, { marks, target: 'marked-swatch' });
    expect(steps[3].seconds).toBe(180);
    expect(advice.target.kind).toBe('swatch');
    expect(Math.abs(advice.targetL! - steps[3].L)).toBeLessThan(0.6);
    expect(Math.abs(Math.log2(advice.seconds! / 180))).toBeLessThan(0.15);
    expect(advice.swatchDeltaE).toBeLessThan(1);
  });

  it('must be there when it is the target', async () => {
    await expect(
      readStrip(photo, strip, { marks: parseMarks(given), target: 'marked-swatch' }),
    ).rejects.toMatchObject({ code: 'target-invalid' });
  });
});
