import type { ComparedFigure, Difference, DyeComparison, DyePair } from '../../analysis/across/compare.ts';
import { clock } from '../../analysis/advice/settable.ts';
import { columns } from './columns.ts';
import { figureText } from './figureText.ts';
import { wrapped } from './wrapped.ts';

type Compared = Extract<DyeComparison, { kind: 'compared' }>;

const oneDecimal = (value: number) => value.toFixed(1);
const degrees = (value: number) => value.toFixed(0);

/** How each figure is said: its name, and its value with the unit. */
const rowsOf = ({
  depthPercent,
  targetL,
}: Compared): readonly (readonly [ComparedFigure, string, (value: number) => string, string])[] => [
  ['secondsToDepth', `Time to ${depthPercent} % depth`, clock, ''],
  ['secondsTo90', 'Time to 90 % depth', clock, ''],
  ...(targetL === null ? [] : [['secondsToTarget', `Time to L* ${targetL}`, clock, ''] as const]),
  ['contrastLPerStop', 'Contrast at half depth', oneDecimal, 'L* per stop'],
  ['exposureScaleStops', 'Exposure scale, 10 to 90 % depth', oneDecimal, 'stops'],
  ['deepestL', 'Deepest L*', oneDecimal, ''],
  ['deepestChroma', 'Chroma there', oneDecimal, ''],
  ['deepestHue', 'Hue there', degrees, '°'],
];

const differenceText = ({ difference, unit, verdict }: Difference): string => {
  if (verdict === 'unknown') return 'not known';
  const signed = (value: number) =>
    `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(unit === 'degrees' ? 0 : 2)}`;
  const amount = figureText(difference, signed, unit === 'degrees' ? '°' : unit);
  return `${amount}: ${verdict === 'different' ? 'different' : "can't be told apart"}`;
};

const pairText = (pairs: readonly DyePair[], figure: ComparedFigure): string[] =>
  pairs.map((pair) => {
    const difference = pair.differences.find((d) => d.figure === figure) as Difference;
    const whose = pairs.length > 1 ? `${pair.second} against ${pair.first}: ` : '';
    return wrapped(`${whose}${differenceText(difference)}`, '    → ', '      ');
  });

/** Dyes side by side for a person: figure by figure, a line per dye, and whether they differ. */
export const compareText = (comparison: DyeComparison, cloth: string, light: string): string => {
  if (comparison.kind === 'not-comparable') return `${wrapped(comparison.reason)}\n`;
  const { dyes, pairs } = comparison;
  const lines = [
    wrapped([cloth, light].filter(Boolean).join(' · ') || 'Dyes on one cloth under one light'),
    '',
    ...pairs.map((pair) => wrapped(pair.sentence)),
    '',
    ...rowsOf(comparison).flatMap(([figure, title, say, unit]) => [
      title,
      ...columns(
        dyes.map((dye) => [`    ${dye.name}`, figureText(dye[figure], say, unit)]),
        ['left', 'left'],
      ),
      ...pairText(pairs, figure),
    ]),
    '',
    wrapped(
      `In brackets 90 % intervals. The arrow says ${dyes.length > 2 ? 'the one against the other' : `${dyes[1].name} against ${dyes[0].name}`}; times in stops, + for faster.`,
    ),
  ];
  return `${lines.join('\n')}\n`;
};
