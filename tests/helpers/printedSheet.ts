import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import sharp from 'sharp';
import {
  type Area,
  CARD_PLACE,
  CLOTH_PLACE,
  fieldOn,
  MARKER_AT,
  PAPERS,
  type PaperName,
} from '../../analysis/sheet/layout.ts';
import type { PrintedPage } from '../../fixtures/paper.ts';
import { type SheetContent, sheetPdf } from '../../server/papers/sheetPdf.ts';

const run = promisify(execFile);

/** Is the PDF renderer of poppler-utils on this machine? */
export const hasPdftoppm = async (): Promise<boolean> => {
  try {
    await run('pdftoppm', ['-v']);
    return true;
  } catch {
    return false;
  }
};

/** The sheet as a laser printer would lay it down: the real PDF, rendered by poppler's pdftoppm. */
export const printedSheet = async (
  paper: PaperName,
  plan: string | null,
  dotsPerInch = 200,
  content: Partial<SheetContent> = {},
): Promise<PrintedPage> => {
  const folder = await mkdtemp(join(tmpdir(), 'tonestep-sheet-'));
  try {
    const file = join(folder, 'sheet.pdf');
    await writeFile(file, await sheetPdf({ paper, plan, ...content }));
    await run('pdftoppm', [
      '-r',
      String(dotsPerInch),
      '-gray',
      '-png',
      '-singlefile',
      file,
      join(folder, 'sheet'),
    ]);
    const { data, info } = await sharp(join(folder, 'sheet.png'))
      .toColourspace('b-w')
      .raw()
      .toBuffer({ resolveWithObject: true });
    const origin = fieldOn(paper);
    const onPaper = (area: Area): Area => ({ ...area, x: area.x + origin.x, y: area.y + origin.y });
    return {
      widthPx: info.width,
      heightPx: info.height,
      grey: new Uint8Array(data.buffer, data.byteOffset, data.length),
      ...PAPERS[paper],
      cardPlace: onPaper(CARD_PLACE),
      clothPlace: onPaper(CLOTH_PLACE),
      corners: MARKER_AT.map(onPaper),
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};
