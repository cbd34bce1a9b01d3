import type { Reading } from '../server/contracts/reading.ts';
import { layTimeAxis, type TimeAxis } from './timeAxis.ts';

/** Where things lie on the drawing of a strip: time along, L* down, in pixels. */
export interface PlotFrame {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly topPx: number;
  /** Lower end of the L* scale; below it the ruler of times and the band of colours. */
  readonly floorPx: number;
  readonly rulerPx: number;
  readonly bandPx: number;
  readonly lightestL: number;
  readonly darkestL: number;
  readonly time: TimeAxis;
  readonly placeL: (L: number) => number;
  readonly lightnessAtPx: (px: number) => number;
}

const TOP_PX = 40;
const RULER_PX = 30;
const BAND_PX = 22;
const GUTTER_PX = 38;
/** z of a two-sided 90 % interval of the normal distribution. */
export const Z90 = 1.645;

/** Lays out the drawing; null where no step was exposed. */
export const layPlot = (reading: Reading, widthPx: number, heightPx: number): PlotFrame | null => {
  const { steps, curve } = reading;
  if (widthPx < 100 || !steps.some((step) => step.seconds > 0)) return null;
  const ends = steps.flatMap(({ L, uL }) => [L - Z90 * uL, L + Z90 * uL]);
  if (curve.kind === 'fitted') ends.push(curve.curve.baseL, curve.curve.deepestL);
  const lightestL = Math.min(100, 5 * Math.ceil((Math.max(...ends) + 1) / 5));
  const darkestL = Math.max(0, 5 * Math.floor((Math.min(...ends) - 1) / 5));
  const floorPx = heightPx - RULER_PX - BAND_PX;
  const perL = (floorPx - TOP_PX) / (lightestL - darkestL);
  return {
    widthPx,
    heightPx,
    topPx: TOP_PX,
    floorPx,
    rulerPx: RULER_PX,
    bandPx: BAND_PX,
    lightestL,
    darkestL,
    time: layTimeAxis(
      steps.map((step) => step.seconds),
      GUTTER_PX,
      widthPx,
    ),
    placeL: (L) => TOP_PX + (lightestL - Math.min(lightestL, Math.max(darkestL, L))) * perL,
    lightnessAtPx: (px) => Math.min(lightestL, Math.max(darkestL, lightestL - (px - TOP_PX) / perL)),
  };
};

/** An SVG path through the curve between two times, with a point about every four pixels. */
export const curvePath = (
  frame: PlotFrame,
  lightnessAt: (seconds: number) => number,
  fromSeconds: number,
  toSeconds: number,
): string => {
  const [x0, x1] = [frame.time.place(fromSeconds), frame.time.place(toSeconds)];
  const count = Math.max(2, Math.ceil((x1 - x0) / 4));
  return Array.from({ length: count + 1 }, (_, i) => {
    const x = x0 + ((x1 - x0) * i) / count;
    const y = frame.placeL(lightnessAt(frame.time.secondsAt(x)));
    return `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`;
  }).join('');
};
