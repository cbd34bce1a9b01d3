import { patchOf, project, unitSquareTo } from '../locate/homography.ts';
import type { Quad } from '../locate/marks.ts';
import { clippingLimits, isClipped } from '../photo/clipping.ts';
import type { Photo } from '../photo/photo.ts';
import { type Area, phrase } from '../phrases.ts';
import type { Tiled, TiledPatch } from '../tiles/tile.ts';
import { EDGE_SHARE } from '../tiles/tilePatch.ts';
import { patchName, sentence, stepName } from './areaName.ts';
import type { Finding } from './finding.ts';

/** Share of clipped pixels beyond which an area no longer tells its own value; the reading refuses such patches too. */
const MOST_CLIPPED = 0.02;
/** So many unclipped card patches carry a reading without the clipped ones: white, grey and black. */
const ENOUGH_PATCHES = 3;
const SAMPLES_PER_SIDE = 32;

interface ClippedArea {
  readonly name: string;
  readonly area: Area;
  /** Share of pixels with a channel at the bright end. */
  readonly burnt: number;
  /** Share of pixels with a channel at zero and none at the bright end. */
  readonly anyZero: number;
  /** Share of pixels with all channels at zero. */
  readonly allZero: number;
}

/** Counts at which end an area's pixels are clipped, on a grid over its middle. */
const endsOf = (photo: Photo, quad: Quad, name: string, area: Area): ClippedArea => {
  const { widthPx, heightPx, codes, profile } = photo;
  const { low, high } = clippingLimits(photo.maxCode);
  const whole = unitSquareTo(quad);
  const middle =
    whole && unitSquareTo(patchOf(whole, EDGE_SHARE, 1 - EDGE_SHARE, EDGE_SHARE, 1 - EDGE_SHARE));
  let [burnt, anyZero, allZero, n] = [0, 0, 0, 0];
  for (let i = 0; middle && i < SAMPLES_PER_SIDE ** 2; i++) {
    const [x, y] = project(
      middle,
      ((i % SAMPLES_PER_SIDE) + 0.5) / SAMPLES_PER_SIDE,
      (Math.floor(i / SAMPLES_PER_SIDE) + 0.5) / SAMPLES_PER_SIDE,
    );
    if (x < 0 || y < 0 || x >= widthPx || y >= heightPx) continue;
    n++;
    const pixel = Math.floor(y) * widthPx + Math.floor(x);
    if (!isClipped(photo, pixel)) continue;
    const own = [codes[3 * pixel], codes[3 * pixel + 1], codes[3 * pixel + 2]];
    // Restated codes no longer show the end; their light still tells bright from dark.
    const bright =
      photo.clippedInFile === undefined
        ? Math.max(...own) >= high
        : Math.max(...own.map((code, c) => profile.linear[c][code])) > 0.5;
    if (bright) burnt++;
    else anyZero++;
    if (Math.max(...own) <= low) allZero++;
  }
  return {
    name,
    area,
    burnt: burnt / Math.max(1, n),
    anyZero: anyZero / Math.max(1, n),
    allZero: allZero / Math.max(1, n),
  };
};

const clippedAreas = (
  photo: Photo,
  areas: readonly (TiledPatch & { readonly called: string; readonly area: Area })[],
): ClippedArea[] =>
  areas.flatMap(({ quad, tiles, called, area }) =>
    tiles.some((t) => t.clippedShare > MOST_CLIPPED) ? [endsOf(photo, quad, called, area)] : [],
  );

const percent = (share: number): string => `${(100 * share).toFixed(0)} %`;
const more = (count: number): string => (count === 0 ? '' : ` (and ${count} more)`);

const said = (areas: readonly ClippedArea[], share: number) => ({
  area: areas[0].area,
  more: areas.length - 1,
  share,
});

/** Areas above the limit, the worst first. */
const above = (areas: readonly ClippedArea[], share: (area: ClippedArea) => number): ClippedArea[] =>
  areas.filter((a) => share(a) > MOST_CLIPPED).sort((a, b) => share(b) - share(a));

/**
 * Has the camera run out of range on card or cloth, and at which end?
 *
 * A colour patch or a deep dye may well lie outside the file's colours, with one channel at zero: noted for steps,
 * whose colour it changes; on the card only blocked black counts.
 */
export const clippedFindings = (photo: Photo, tiled: Tiled): Finding[] => {
  const findings: Finding[] = [];
  const card = clippedAreas(
    photo,
    tiled.card.map((p) => ({ ...p, called: patchName(p.name), area: { patch: p.name } })),
  );
  const steps = clippedAreas(
    photo,
    tiled.steps.map((p) => ({ ...p, called: stepName(p.seconds), area: { seconds: p.seconds } })),
  );
  for (const [areas, code] of [
    [card, 'card-clipped'],
    [steps, 'step-clipped'],
  ] as const) {
    const burnt = above(areas, (a) => a.burnt);
    if (burnt.length === 0) continue;
    const enough = code === 'card-clipped' && tiled.card.length - burnt.length >= ENOUGH_PATCHES;
    findings.push({
      code,
      severity: enough ? 'note' : 'retake',
      where: burnt[0].name,
      message: `${sentence(burnt[0].name)}${more(burnt.length - 1)} is burnt out in ${percent(burnt[0].burnt)} of its pixels${code === 'step-clipped' ? ': it is at least as light as stated, and counts little in the curve' : ''}. Take the photo with less exposure: tap on the white and pull the brightness down by about a stop.`,
      phrase: phrase(code === 'card-clipped' ? 'card-burnt' : 'step-burnt', said(burnt, burnt[0].burnt)),
    });
  }
  const black = above(card, (a) => a.allZero);
  if (black.length > 0)
    findings.push({
      code: 'card-clipped',
      severity: 'note',
      where: black[0].name,
      message: `${sentence(black[0].name)}${more(black.length - 1)} is blocked to pure black in ${percent(black[0].allZero)} of its pixels. Take the photo with more light.`,
      phrase: phrase('card-blocked', said(black, black[0].allZero)),
    });
  const deep = above(steps, (a) => a.anyZero);
  if (deep.length > 0)
    findings.push({
      code: 'step-clipped',
      severity: 'note',
      where: deep[0].name,
      message: `${sentence(deep[0].name)}${more(deep.length - 1)} has a colour channel at zero in ${percent(deep[0].anyZero)} of its pixels: too deep or too strong a colour for this file. Use more light, and a wide colour setting (Display P3) where the camera has one.`,
      phrase: phrase('step-channel-zero', said(deep, deep[0].anyZero)),
    });
  return findings;
};
