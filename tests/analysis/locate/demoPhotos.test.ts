import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { sureFrom } from '../../../analysis/locate/confidence.ts';
import { findMarks } from '../../../analysis/locate/findMarks.ts';
import { parseMarks } from '../../../analysis/locate/parseMarks.ts';
import { coveredShare, overlapShare } from '../../../analysis/locate/quadGeometry.ts';
import { decodePhoto } from '../../../analysis/photo/decode.ts';

const folder = join(import.meta.dirname, '../../../fixtures/demo');
const json = (name: string): unknown => JSON.parse(readFileSync(join(folder, name), 'utf8'));

// Truth: the marks beside each photo, written by the renderer that drew it.
describe('card and steps of the demo photos, found without marks', () => {
  for (const name of ['cotton-blueprint', 'hemp-banner-blue', 'linen-brown-too-short', 'silk-scarf-plum'])
    it(`${name}: is sure, and covers 90 % of every true step and 80 % of every true patch`, async () => {
      const photo = await decodePhoto(new Uint8Array(readFileSync(join(folder, `${name}.jpg`))));
      const truth = parseMarks(json(`${name}.marks.json`));
      const found = findMarks(photo, parseStrip(json(`${name}.strip.json`)));
      if (found.kind !== 'found') throw new Error(`${found.kind}: ${JSON.stringify(found)}`);
      expect(found.confidence).toBeGreaterThan(sureFrom);
      found.marks.steps.forEach(({ seconds, quad }, i) => {
        expect(seconds).toBe(truth.steps[i].seconds);
        expect(coveredShare(truth.steps[i].quad, quad)).toBeGreaterThan(0.9);
        expect(overlapShare(truth.steps[i].quad, quad)).toBeGreaterThan(0.7);
      });
      for (const { name: patch, quad } of found.marks.card) {
        const own = truth.card.find((mark) => mark.name === patch);
        expect(own && coveredShare(own.quad, quad)).toBeGreaterThan(0.8);
      }
    });
});
