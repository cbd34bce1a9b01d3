import { performance } from 'node:perf_hooks';
import { advise } from '../../analysis/advice/advise.ts';
import { judgeSteps } from '../../analysis/advice/verdict.ts';
import { checkPhoto } from '../../analysis/check/checkPhoto.ts';
import { fitStrips } from '../../analysis/curve/fitStrips.ts';
import { level } from '../../analysis/level/level.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { placeMarks } from '../../analysis/locate/placeMarks.ts';
import { findOnSheet } from '../../analysis/locate/sheetMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import { combinePhotos } from '../../analysis/steps/combinePhotos.ts';
import { readSteps } from '../../analysis/steps/readSteps.ts';
import { cutTiles } from '../../analysis/tiles/cutTiles.ts';
import type { TimedPhoto } from './speedPhotos.ts';

/** Milliseconds of each stage of one reading, in the order of `readStripPhotos`. */
export const stagesOf = async (photo: TimedPhoto): Promise<ReadonlyMap<string, number>> => {
  const times = new Map<string, number>();
  let last = performance.now();
  const done = (name: string): void => {
    const now = performance.now();
    times.set(name, now - last);
    last = now;
  };
  const strip = parseStrip(photo.strip);
  const decoded = await decodePhoto(photo.bytes);
  done('decode');
  const sheet = photo.marks === null ? await findOnSheet(decoded, strip) : null;
  if (photo.marks === null) done('find the sheet');
  const given = photo.marks === null ? null : parseMarks(photo.marks);
  const { marks } = placeMarks(decoded, strip, given, undefined, sheet?.found);
  const tiled = cutTiles(decoded, marks);
  done('tiles');
  checkPhoto(decoded, marks, tiled);
  done('check');
  const levelled = level(tiled, strip, decoded.profile, 1);
  done('light, card and tone');
  const { set } = combinePhotos([readSteps(levelled, decoded.profile)]);
  const points = set.steps.map(({ seconds, L, a, b, uL }) => ({ seconds, L, a, b, uL }));
  done('steps');
  const curve = fitStrips([{ points, covarianceL: set.covarianceL }]);
  judgeSteps(set.steps, curve);
  done('curve');
  advise(curve, { kind: 'full' }, { seed: 1 });
  done('bootstrap and advice');
  return times;
};
