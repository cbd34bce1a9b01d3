import { colourAt, lightnessOfDepth } from '../../analysis/curve/evaluate.ts';
import type { Curve, Reading } from '../contracts/reading.ts';
import { type CurveSample, curveSamples } from '../exchange/curveSamples.ts';
import { labelled, type ReportAxis, reportAxis } from './reportAxis.ts';
import { paperColour } from './reportColour.ts';
import type { Flow } from './reportFlow.ts';
import {
  FAINT,
  firstLines,
  INK,
  type Pen,
  SOFT,
  type Stroke,
  type Typefaces,
  WHITE,
  widthOf,
} from './reportPen.ts';
import type { PaperWords } from './words/shape.ts';

export interface PlotArea {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** z of a two-sided 90 % interval of the normal distribution. */
const Z90 = 1.645;
const GUTTER = 30;
const ABOVE = 26;
const RULER = 16;
const RIBBON = 9;
const CAPTION = 26;
const CAPTION_LINES = 2;
const SLICES = 64;
const LABEL_WIDTH = 30;

interface Frame {
  readonly axis: ReportAxis;
  readonly top: number;
  readonly floor: number;
  readonly lightest: number;
  readonly darkest: number;
  readonly placeL: (L: number) => number;
}

const layFrame = (reading: Reading, { x, y, width, height }: PlotArea): Frame | null => {
  const axis = reportAxis(
    reading.steps.map((step) => step.seconds),
    x + GUTTER,
    x + width - GUTTER,
  );
  if (!axis) return null;
  const ends = reading.steps.flatMap(({ L, uL }) => [L - Z90 * uL, L + Z90 * uL]);
  if (reading.curve.kind === 'fitted') ends.push(reading.curve.curve.baseL, reading.curve.curve.deepestL);
  const lightest = Math.min(100, 5 * Math.ceil((Math.max(...ends) + 1) / 5));
  const darkest = Math.max(0, 5 * Math.floor((Math.min(...ends) - 1) / 5));
  const top = y + ABOVE;
  const floor = y + height - RULER - RIBBON - CAPTION;
  const perL = (floor - top) / (lightest - darkest);
  return {
    axis,
    top,
    floor,
    lightest,
    darkest,
    placeL: (L) => top + (lightest - Math.min(lightest, Math.max(darkest, L))) * perL,
  };
};

const pathThrough = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(2)} ${y.toFixed(2)}`).join(' ');

/** Slanting lines across an upright strip of the plot. */
const hatching = (left: number, right: number, top: number, floor: number): string => {
  const lines: string[] = [];
  const width = right - left;
  for (let y = top; y < floor + width; y += 4) {
    const [x1, y1] = y > floor ? [left + (y - floor), floor] : [left, y];
    const [x2, y2] = y - width < top ? [left + (y - top), top] : [right, y - width];
    if (x2 > x1) lines.push(`M${x1.toFixed(2)} ${y1.toFixed(2)} L${x2.toFixed(2)} ${y2.toFixed(2)}`);
  }
  return lines.join(' ');
};

const drawLightness = (pen: Pen, { sans }: Typefaces, frame: Frame): void => {
  const { axis, lightest, darkest, placeL, top } = frame;
  const small = { font: sans, size: 7, colour: SOFT };
  const every = lightest - darkest > 45 ? 20 : 10;
  for (let L = Math.ceil(darkest / every) * every; L <= lightest; L += every) {
    pen.line(axis.left, placeL(L), axis.right, placeL(L), { colour: FAINT, width: 0.4 });
    pen.text(String(L), axis.left - 6, placeL(L) + 2.5, { ...small, align: 'right' });
  }
  pen.text('L*', axis.left - 6, top - 9, { ...small, align: 'right' });
};

const drawTimes = (
  pen: Pen,
  { sans }: Typefaces,
  { formats, report: { plot } }: PaperWords,
  frame: Frame,
  seconds: readonly number[],
): void => {
  const { axis, top, floor } = frame;
  const small = { font: sans, size: 7, colour: SOFT, align: 'middle' } as const;
  pen.line(axis.left, floor, axis.right, floor);
  pen.line(axis.start, top, axis.right, top);
  if (axis.base !== null) {
    pen.text(plot.base, axis.base, floor + 11, small);
    pen.line(axis.start, top - 4, axis.start, floor + 4, { colour: FAINT, width: 0.4, dash: [1.5, 1.5] });
  }
  const exposed = seconds.filter((s) => s > 0);
  const places = exposed.map(axis.place);
  const shown = labelled(places, LABEL_WIDTH);
  exposed.forEach((s, i) => {
    pen.line(places[i], floor, places[i], floor + 3);
    if (shown[i]) pen.text(formats.time(s), places[i], floor + 11, small);
  });
  const stops = Math.floor(Math.log2(axis.last / axis.shortest) + 1e-9);
  const perStop = axis.place(2 * axis.shortest) - axis.place(axis.shortest);
  const every = Math.max(1, Math.ceil(14 / perStop));
  for (let stop = 0; stop <= stops; stop += every) {
    const x = axis.place(axis.shortest * 2 ** stop);
    pen.line(x, top, x, top - 3);
    pen.text(String(stop), x, top - 6, small);
  }
  pen.text(plot.stops, axis.right, top - 16, { ...small, align: 'right' });
};

const drawDepths = (
  pen: Pen,
  { sans }: Typefaces,
  { report: { plot } }: PaperWords,
  frame: Frame,
  reading: Reading,
): void => {
  if (reading.curve.kind !== 'fitted') return;
  const { curve } = reading.curve;
  for (const percent of [0, 50, 100]) {
    const y = frame.placeL(lightnessOfDepth(curve, percent));
    pen.line(frame.axis.right, y, frame.axis.right + 3, y, { colour: SOFT });
    pen.text(`${percent} %`, frame.axis.right + 6, y + 2.5, { font: sans, size: 7, colour: SOFT });
  }
  pen.text(plot.depth, frame.axis.right + 6, frame.top - 9, { font: sans, size: 7, colour: SOFT });
};

const drawCurve = (pen: Pen, { axis, placeL }: Frame, curve: Curve): void => {
  const along = curveSamples(curve).filter(
    (s) => s.seconds >= axis.first * 0.9999 && s.seconds <= axis.last * 1.0001,
  );
  const at = (s: CurveSample, L: number) => [axis.place(s.seconds), placeL(L)] as const;
  const band = [...along.map((s) => at(s, s.lowL)), ...along.toReversed().map((s) => at(s, s.highL))];
  pen.fill(`${pathThrough(band)} Z`, SOFT, 0.22);
  const draw = (part: readonly CurveSample[], stroke: Stroke) => {
    if (part.length > 1) pen.stroke(pathThrough(part.map((s) => at(s, s.L))), stroke);
  };
  const broken = { width: 1, dash: [3, 2.5] };
  const from = along.findIndex((s) => s.onStrip);
  const to = along.findLastIndex((s) => s.onStrip);
  draw(along.slice(from, to + 1), { width: 1.3 });
  draw(along.slice(0, from + 1), broken);
  draw(along.slice(to), broken);
  if (axis.base !== null)
    pen.line(axis.left + 3, placeL(curve.baseL), axis.start - 3, placeL(curve.baseL), broken);
};

/** Steps of strips that were read earlier and fitted together with this one. */
const drawEarlier = (pen: Pen, { axis, placeL }: Frame, curve: Curve): void => {
  for (const { seconds, L } of curve.points) {
    const x = seconds > 0 ? axis.place(seconds) : axis.base;
    if (x !== null) pen.dot(x, placeL(L), 1.8, WHITE, { colour: SOFT, width: 0.6 });
  }
};

const drawAnswer = (
  pen: Pen,
  { bold }: Typefaces,
  { formats }: PaperWords,
  frame: Frame,
  { advice }: Reading,
): void => {
  const { axis, top, floor, placeL } = frame;
  const { seconds, low, high, targetL, roundedSeconds } = advice;
  if (low !== null && high !== null) {
    const [from, to] = [axis.place(low), axis.place(high)];
    for (const x of [from, to]) pen.line(x, top, x, floor, { colour: SOFT, width: 0.5 });
    pen.stroke(hatching(from, Math.max(from + 1, to), top, floor), { colour: SOFT, width: 0.35 });
  }
  if (targetL !== null)
    pen.line(axis.left, placeL(targetL), axis.right, placeL(targetL), {
      width: 0.6,
      dash: [2, 2],
    });
  if (seconds === null || roundedSeconds === null) return;
  const x = axis.place(seconds);
  pen.line(x, top, x, floor, { width: 1 });
  const flag = { font: bold, size: 8, colour: WHITE, align: 'middle' } as const;
  const time = formats.time(roundedSeconds);
  const width = widthOf(time, flag) + 8;
  const middle = Math.min(axis.right - width / 2, x);
  pen.box(middle - width / 2, top, width, 13, INK);
  pen.text(time, middle, top + 9.5, flag);
};

const drawSteps = (pen: Pen, { axis, placeL }: Frame, { steps }: Reading): void => {
  for (const step of steps) {
    const x = step.seconds > 0 ? axis.place(step.seconds) : axis.base;
    if (x === null) continue;
    pen.line(x, placeL(step.L + Z90 * step.uL), x, placeL(step.L - Z90 * step.uL), { width: 0.9 });
    pen.dot(x, placeL(step.L), 3.2, paperColour(step), { colour: INK, width: 0.8 });
  }
};

/** Under the axis, the colour that the cloth has at each time: what the curve looks like on the line. */
const drawRibbon = (pen: Pen, { axis, floor }: Frame, reading: Reading): void => {
  const y = floor + RULER;
  if (reading.curve.kind === 'fitted') {
    const { curve } = reading.curve;
    if (axis.base !== null)
      pen.box(axis.left, y, axis.start - axis.left - 2, RIBBON, paperColour(colourAt(curve, 0)));
    const slice = (axis.right - axis.start) / SLICES;
    for (let i = 0; i < SLICES; i++) {
      const seconds = axis.first * (axis.last / axis.first) ** ((i + 0.5) / SLICES);
      const overlap = i === SLICES - 1 ? 0 : 0.3;
      pen.box(axis.start + i * slice, y, slice + overlap, RIBBON, paperColour(colourAt(curve, seconds)));
    }
    return;
  }
  for (const step of reading.steps) {
    const x = step.seconds > 0 ? axis.place(step.seconds) : axis.base;
    if (x !== null) pen.box(x - 7, y, 14, RIBBON, paperColour(step));
  }
};

const captionOf = ({ said, report: { plot } }: PaperWords, { curve, advice }: Reading): string =>
  curve.kind === 'fitted'
    ? [plot.bars, plot.curve, ...(advice.low === null ? [] : [plot.hatched])].join(' ')
    : `${plot.bars} ${plot.noCurve(said(curve.phrase) ?? curve.message)}`;

/**
 * Draws L* against exposure: time along in equal stops, minutes below and stops above; the curve with its 90 % band, the
 * steps with theirs, target and time with its interval, and the colours under it.
 *
 * @returns false where no step was exposed and nothing was drawn.
 */
export const drawPlot = (flow: Flow, reading: Reading, area: PlotArea): boolean => {
  const frame = layFrame(reading, area);
  if (!frame) return false;
  const { words, faces } = flow;
  const pen = flow.pen();
  drawLightness(pen, faces, frame);
  drawAnswer(pen, faces, words, frame, reading);
  if (reading.curve.kind === 'fitted') {
    drawCurve(pen, frame, reading.curve.curve);
    drawEarlier(pen, frame, reading.curve.curve);
  }
  drawTimes(
    pen,
    faces,
    words,
    frame,
    reading.steps.map((step) => step.seconds),
  );
  drawDepths(pen, faces, words, frame, reading);
  drawSteps(pen, frame, reading);
  drawRibbon(pen, frame, reading);
  const small = { font: faces.sans, size: 7, colour: SOFT };
  firstLines(captionOf(words, reading), small, area.width - 2 * GUTTER, CAPTION_LINES).forEach((line, i) => {
    pen.text(line, area.x + GUTTER, area.y + area.height - CAPTION + 11 + 9 * i, small);
  });
  return true;
};
