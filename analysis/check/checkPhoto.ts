import type { Marks } from '../locate/marks.ts';
import type { Photo } from '../photo/photo.ts';
import type { Tiled } from '../tiles/tile.ts';
import { blurFindings } from './blurred.ts';
import { clippedFindings } from './clipped.ts';
import type { Finding } from './finding.ts';
import { lightFindings } from './light.ts';
import { plainTable } from './lightGroups.ts';
import { obliqueFindings } from './oblique.ts';
import { sizeFindings } from './size.ts';
import { tintFindings } from './tint.ts';

/**
 * Is this photo fit to be read, and what should be done otherwise when it is taken again?
 *
 * Looks for blur, the edge of a shadow, glare, light that is mixed or very uneven, clipping, marks that are too
 * small, and a slanting view. It judges the photo alone: a finding never changes a number, it says which numbers
 * to distrust. What no photo shows is asked instead: `questions`.
 *
 * @param photo upright photo. @param marks card and steps in its pixels. @param tiled what `cutTiles` took from them.
 * @returns findings, those that ask for a new photo first; none for a good photo.
 */
export const checkPhoto = (photo: Photo, marks: Marks, tiled: Tiled): readonly Finding[] => {
  const table = plainTable(tiled);
  const findings = [
    ...blurFindings(photo, marks),
    ...lightFindings(tiled, table),
    ...tintFindings(tiled, table),
    ...clippedFindings(photo, tiled),
    ...sizeFindings(photo, marks),
    ...obliqueFindings(marks),
  ];
  return [
    ...findings.filter((f) => f.severity === 'retake'),
    ...findings.filter((f) => f.severity === 'note'),
  ];
};
