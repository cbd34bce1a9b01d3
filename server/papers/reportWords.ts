import { formatClock } from '../../analysis/plan/time.ts';
import type { Advice, Reading } from '../contracts/reading.ts';
import type { PaperWords } from './words/shape.ts';

type Row = readonly [name: string, text: string];

/** A number for people in this language, a dash where there is none. */
export const figure = ({ formats }: PaperWords, value: number | null, digits: number): string =>
  value === null ? '–' : formats.number(value, digits);

/** The dye as the report's title, and the line under it. */
export const namesOf = (
  { report }: PaperWords,
  { strip }: Reading,
): { readonly title: string; readonly under: string } => ({
  title: strip.dye.trim() || report.noDye,
  under: [strip.cloth, strip.light]
    .map((name) => name.trim())
    .filter(Boolean)
    .join(' · '),
});

export const timeOf = ({ formats, report }: PaperWords, seconds: number): string =>
  seconds === 0 ? report.plot.base : formats.time(seconds);

/** The time to set, large on the paper. */
export const answerTime = ({ formats, report }: PaperWords, { roundedSeconds }: Advice): string =>
  roundedSeconds === null
    ? report.noTime
    : formatClock(roundedSeconds).replace('.', formats.number(0.5, 1).charAt(1));

export const answerInterval = (
  { formats, report }: PaperWords,
  { low, high, highOpen, widthStops }: Advice,
): string | null => {
  if (low === null || high === null) return null;
  if (highOpen) return report.openInterval(formats.time(low));
  const width = widthStops === null ? null : formats.number(widthStops, 2);
  return report.interval(formats.time(low), formats.time(high), width);
};

export const targetWords = ({ formats: { number }, report }: PaperWords, { target }: Advice): string => {
  switch (target.kind) {
    case 'L':
      return report.target.L(number(target.L, 1));
    case 'depth':
      return report.target.depth(number(target.percent, 0));
    case 'full':
      return report.target.full;
    case 'swatch':
      return report.target.swatch(number(target.L, 1), number(target.a, 1), number(target.b, 1));
  }
};

const curveRows = (words: PaperWords, { curve }: Reading): readonly Row[] => {
  const { said, formats, report } = words;
  const { number, time } = formats;
  if (curve.kind !== 'fitted') return [[report.rows.curve, said(curve.phrase) ?? curve.message]];
  const fitted = curve.curve;
  const { baseL, deepestL, contrastLPerStop, exposureScaleStops, secondsToFull } = fitted;
  const { figures } = report;
  const remarks = fitted.remarks.map((text, i) => said(fitted.remarkPhrases?.[i]) ?? text);
  return [
    [
      report.rows.curve,
      [`${capital(report.curve[fitted.model])}. ${said(fitted.phrase) ?? fitted.reason}`, ...remarks].join(
        ' ',
      ),
    ],
    [
      report.rows.figures,
      [
        figures.base(number(baseL, 1)),
        figures.deepest(number(deepestL, 1)),
        ...(contrastLPerStop === null ? [] : [figures.contrast(number(contrastLPerStop, 1))]),
        ...(exposureScaleStops === null ? [] : [figures.scale(number(exposureScaleStops, 1))]),
        ...(secondsToFull === null ? [] : [figures.toFull(time(secondsToFull))]),
      ].join('; '),
    ],
  ];
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** How the numbers came about: what a reader needs to judge them or get them again. */
export const methodRows = (words: PaperWords, reading: Reading): readonly Row[] => {
  const { said, formats, report } = words;
  const { number } = formats;
  const { strip, tone, illumination, photo, repeatability, colour, methodVersion } = reading;
  const { rows } = report;
  const card = report.patchesUsed(report.card[strip.card] ?? strip.card, tone.patchesUsed);
  const refused = tone.patchesRefused.map(({ name, reason, phrase }) =>
    report.patchRefused(name, said(phrase) ?? reason),
  );
  const light = illumination.accepted ? report.light[illumination.method] : report.lightNotEvened;
  const fallOff = illumination.fallOffRatio;
  return [
    [rows.method, report.method(methodVersion)],
    [rows.photo, `${photo.widthPx} × ${photo.heightPx} px, ${photo.format}, ${photo.profile}`],
    ...(repeatability
      ? ([
          [
            rows.photos,
            report.photos(
              repeatability.photos,
              number(repeatability.measuredL, 1),
              number(repeatability.expectedL, 1),
            ),
          ],
        ] as const)
      : []),
    [rows.card, [card, ...refused, ...(tone.relative ? [report.lowContrast] : [])].join('; ')],
    [
      rows.light,
      `${light}${fallOff === null ? '' : `; ${report.fallOff(number(fallOff, 2))}`} (${said(illumination.phrase) ?? illumination.reason})`,
    ],
    [
      rows.camera,
      [
        report.camera(number(tone.exponent, 3), number(100 * tone.flare, 2)),
        ...(tone.leaveOneOutL === null ? [] : [report.leftOutPatch(number(tone.leaveOneOutL, 1))]),
        ...(colour?.applied ? [report.colours] : []),
      ].join('; '),
    ],
    ...curveRows(words, reading),
  ];
};

export const nextStripWords = (
  { said, formats, report }: PaperWords,
  { nextStrip }: Advice,
): string | null => {
  if (!nextStrip) return null;
  const { reason, phrase, expectedTogetherStops: together } = nextStrip;
  const why = said(phrase) ?? reason;
  return together === null ? why : `${why} ${report.together(formats.number(together, 2))}`;
};

/** Has the reading sentences that this language has no words for? */
export const lacksWords = ({ language, said }: PaperWords, { steps, warnings, curve }: Reading): boolean =>
  language !== 'en' &&
  [...steps, ...warnings, ...(curve.kind === 'fitted' ? [curve.curve] : [curve])].some(
    ({ phrase }) => said(phrase) === null,
  );
