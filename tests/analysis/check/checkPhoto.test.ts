import { describe, expect, it } from 'vitest';
import { checkPhoto } from '../../../analysis/check/checkPhoto.ts';
import type { Finding } from '../../../analysis/check/finding.ts';
import { questions } from '../../../analysis/check/questions.ts';
import type { Photo } from '../../../analysis/photo/photo.ts';
import { cutTiles } from '../../../analysis/tiles/cutTiles.ts';
import { marks, type Painting, paintedTable } from './paintedTable.ts';

const check = (photo: Photo): readonly Finding[] => checkPhoto(photo, marks, cutTiles(photo, marks));
const found = (painting: Painting): readonly Finding[] => check(paintedTable(painting));
const codes = (findings: readonly Finding[]) => findings.map((f) => f.code);

/** A light that falls off by a share from the left border to the right one. */
const slant = (share: number) => (x: number) => {
  const light = 1 - (share * x) / 1600;
  return [light, light, light] as const;
};

describe('a photo without fault', () => {
  it('gives no finding', () => {
    expect(found({})).toEqual([]);
  });

  it('gives none under light that falls off by 30 % to one side', () => {
    expect(found({ lit: slant(0.3) })).toEqual([]);
  });

  it('gives none under light whose red against blue changes by 5 %', () => {
    expect(found({ lit: (x) => [1 + (0.025 * (x - 800)) / 800, 1, 1 - (0.025 * (x - 800)) / 800] })).toEqual(
      [],
    );
  });

  it('gives none for being a little soft: a blur of 1.4 px', () => {
    // Three running means of 3 px have a variance of 2 px².
    expect(found({ box: { across: 3, down: 3 } })).toEqual([]);
  });
});

describe('blur', () => {
  // Three running means of 9 px have a variance of 20 px²: 4.5 px.
  it('of 4.5 px both ways asks for a new photo and says how wide borders are', () => {
    const [finding, ...rest] = found({ box: { across: 9, down: 9 } });
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ code: 'photo-blurred', severity: 'retake' });
    const widthPx = Number(finding.message.match(/spread over (\d+) px/)![1]);
    expect(Math.abs(widthPx - 9)).toBeLessThanOrEqual(1);
    expect(finding.message).toContain('focus');
  });

  it('of a shaken photo, 4.5 px across and none down, is seen as well', () => {
    expect(codes(found({ box: { across: 9, down: 1 } }))).toEqual(['photo-blurred']);
  });
});

describe('a shadow', () => {
  const beyond = (at: number, depth: number, softPx: number) => (x: number) => {
    const light = 1 - depth / (1 + Math.exp((-4 * (x - at)) / softPx));
    return [light, light, light] as const;
  };

  it('whose edge crosses the step of 20 s and takes 30 % is found there, with its depth within 5 %', () => {
    const [finding, ...rest] = found({ lit: beyond(800, 0.3, 60) });
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ code: 'shadow-edge', severity: 'retake' });
    expect(['the step of 20 s', 'card patch "black"']).toContain(finding.where);
    expect(Math.abs(Number(finding.message.match(/by (\d+) %/)![1]) - 30)).toBeLessThanOrEqual(5);
  });

  it('that falls between card and strip, on the bare table, is found by the table', () => {
    const lit = (_: number, y: number) => beyond(480, 0.3, 40)(y);
    expect(codes(found({ lit }))).toEqual(['shadow-edge']);
  });

  it('that takes 4 % is left to the light field', () => {
    expect(found({ lit: beyond(800, 0.04, 60) })).toEqual([]);
  });

  it('that ends beyond card and strip is none of theirs', () => {
    expect(found({ lit: (_, y) => beyond(1080, 0.4, 40)(y) })).toEqual([]);
  });
});

describe('glare', () => {
  const spot = (atX: number, atY: number, radiusPx: number, added: number) => (x: number, y: number) =>
    added * Math.exp(-((x - atX) ** 2 + (y - atY) ** 2) / radiusPx ** 2);

  it.each([
    ['card patch "grey"', 560, 280, 0.06],
    ['card patch "black"', 740, 280, 0.05],
    ['card patch "white"', 380, 280, 0.12],
    ['the step of 40 s', 1000, 740, 0.08],
    ['the unexposed base', 400, 740, 0.2],
  ])('on %s is found there', (where, x, y, added) => {
    const findings = found({ glare: spot(x, y, 60, added) });
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({ code: 'glare', severity: 'retake', where });
  });

  it('on the table alone is none of theirs', () => {
    expect(found({ glare: spot(1400, 300, 60, 0.3) })).toEqual([]);
  });
});

describe('the light’s colour and evenness', () => {
  it('red against blue that changes by 26 % over card and strip is mixed light', () => {
    const [finding, ...rest] = found({
      lit: (x) => [1 + (0.13 * (x - 800)) / 800, 1, 1 - (0.13 * (x - 800)) / 800],
    });
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ code: 'light-mixed', severity: 'retake' });
    // Read between the middles of the outermost tiles: ln red against blue is -0.148 at 345 px and 0.080 at 1045 px.
    expect(Math.abs(Number(finding.message.match(/by (\d+) %/)![1]) - 25.5)).toBeLessThanOrEqual(2);
  });

  it('a factor of 2 between one end and the other is very uneven', () => {
    const lit = (x: number) => {
      const light = Math.exp(-Math.LN2 * ((x - 300) / 800));
      return [light, light, light] as const;
    };
    const [finding, ...rest] = found({ lit });
    expect(rest).toEqual([]);
    expect(finding).toMatchObject({ code: 'light-uneven', severity: 'retake' });
    // Read between the middles of tiles: 330 to 1060 px.
    expect(Math.abs(Number(finding.message.match(/factor of ([\d.]+)/)![1]) - 1.9)).toBeLessThanOrEqual(0.15);
  });
});

describe('clipping', () => {
  it('of the white patch, one of three, asks for a new photo', () => {
    // White has 0.75 of light: a third more takes it to the end.
    const findings = found({ lit: () => [1.4, 1.4, 1.4] });
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      code: 'card-clipped',
      severity: 'retake',
      where: 'card patch "white"',
    });
    expect(findings[0].message).toContain('100 %');
    expect(findings[0].message).toContain('less exposure');
  });

  it('of the base as well names both', () => {
    expect(codes(found({ lit: () => [1.8, 1.8, 1.8] }))).toEqual(['card-clipped', 'step-clipped']);
  });

  it('is counted by the photo’s own mask where it brings one', () => {
    const photo = paintedTable();
    const clippedInFile = new Uint8Array(photo.widthPx * photo.heightPx);
    for (let y = 200; y < 360; y++) clippedInFile.fill(1, 1600 * y + 300, 1600 * y + 460);
    expect(codes(check({ ...photo, clippedInFile }))).toEqual(['card-clipped']);
  });

  it('of the black patch to zero is noted: more light', () => {
    const photo = paintedTable();
    const blocked = photo.codes.map((code) => (code < 70 ? 0 : code));
    const findings = check({ ...photo, codes: blocked });
    expect(findings).toHaveLength(1);
    expect(findings[0]).toMatchObject({
      code: 'card-clipped',
      severity: 'note',
      where: 'card patch "black"',
    });
    expect(findings[0].message).toContain('more light');
  });

  it('of one channel of a deep step is noted: a colour beyond the file', () => {
    const photo = paintedTable();
    const codesOf = photo.codes.slice();
    for (let y = 600; y < 900; y++) for (let x = 900; x < 1100; x++) codesOf[3 * (1600 * y + x)] = 0;
    const findings = check({ ...photo, codes: codesOf });
    expect(codes(findings)).toContain('step-clipped');
    expect(findings.find((f) => f.code === 'step-clipped')).toMatchObject({
      severity: 'note',
      where: 'the step of 40 s',
    });
  });
});

describe('findings', () => {
  it('that ask for a new photo come before notes, and each says what to do', () => {
    const photo = paintedTable({ lit: () => [1.4, 1.4, 1.4], box: { across: 9, down: 9 } });
    const findings = check(photo);
    expect(codes(findings)).toEqual(['photo-blurred', 'card-clipped']);
    for (const { message } of findings) expect(message).toMatch(/\d.*\. (Tap|Take)/);
  });

  it('never speak of wet cloth: that is asked, not guessed', () => {
    expect(questions.map((q) => q.code)).toEqual(['cloth-dry-and-flat']);
    expect(questions[0].text).toBe('Is the cloth dry and flat?');
    // Cloth darker by a third, as when wet, is as good a photo as any.
    const findings = found({ lit: (_, y) => (y >= 600 && y < 900 ? [0.7, 0.7, 0.7] : [1, 1, 1]) });
    expect(findings.filter((f) => /wet|dry/.test(f.message))).toEqual([]);
  });
});
