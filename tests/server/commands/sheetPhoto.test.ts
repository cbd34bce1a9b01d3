import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { samplePaperScene } from '../../../fixtures/paper.ts';
import { photographPaper } from '../../../fixtures/paperPhoto.ts';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { pageOf, SHEET_PLAN } from '../../bench/sheetMeasure.ts';
import { hasPdftoppm } from '../../helpers/printedSheet.ts';

const folder = mkdtempSync(join(tmpdir(), 'tonestep-sheet-photo-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const file = (name: string): string => join(folder, name);
const rendered = await hasPdftoppm();

describe.skipIf(!rendered)('a photo of the measuring sheet on the command line', () => {
  it('is read by the sheet, without marks or taps, and names the plan of its code', async () => {
    const page = await pageOf('a4');
    const scene = await photographPaper(
      samplePaperScene(40_020, page, { card: 'white-grey-black', pieces: 'contiguous', reach: 'usual' }),
      page,
    );
    writeFileSync(file('sheet.jpg'), scene.bytes);
    writeFileSync(file('sheet.strip.json'), JSON.stringify(scene.strip));
    const { stdout, exit } = await runCommandLine(['read', file('sheet.jpg'), '--json']);
    expect(exit).toBe(0);
    const reading = JSON.parse(stdout);
    expect(reading.planId).toBe(SHEET_PLAN);
    expect(new Set(reading.marks.steps.map(({ origin }: { origin: string }) => origin))).toEqual(
      new Set(['sheet']),
    );
    expect(reading.warnings.map(({ code }: { code: string }) => code)).toContain('sheet-paper');
  }, 60_000);
});
