import type { Transfer } from '../../analysis/across/transfer.ts';
import { clock } from '../../analysis/advice/settable.ts';
import type { Warning } from '../../analysis/errors.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import { columns } from './columns.ts';
import { intervalText } from './figureText.ts';
import type { Restated } from './restate.ts';
import { wrapped } from './wrapped.ts';

type Answer = Transfer & { readonly warnings: readonly Warning[]; readonly restated: Restated | null };

const UNUSABLE = { 'too-pale': 'too pale to tell', 'too-deep': 'too deep to tell' } as const;

const scrapTable = ({ scraps }: Answer): string[] =>
  columns(
    [
      ['scrap', 'L*', 'depth', 'shift'],
      ...scraps.map(({ seconds, L, depthPercent, shiftStops, uStops, unusable }) => [
        formatClock(seconds),
        L.toFixed(1),
        `${depthPercent.toFixed(0)} %`,
        shiftStops === null || uStops === null
          ? UNUSABLE[unusable ?? 'too-deep']
          : `${shiftStops < 0 ? '−' : '+'}${Math.abs(shiftStops).toFixed(2)} stop ± ${uStops.toFixed(2)}`,
      ]),
    ],
    ['right', 'right', 'right', 'left'],
  );

const restatedLines = ({ words, recordedSeconds, now, roundedSeconds }: Restated): string[] => {
  if (now.kind !== 'restated') return [wrapped(now.sentence)];
  if (roundedSeconds === null || recordedSeconds === null) return [];
  const interval = intervalText(now.seconds, clock);
  return [
    wrapped(`For ${words} the recorded time is ${clock(recordedSeconds)}.`),
    `Expose ${formatClock(roundedSeconds)}${interval === null ? '' : `   (90 % interval ${interval})`}`,
  ];
};

/** The shift and the restated time for a person. */
export const transferText = (
  answer: Answer,
  strip: { readonly dye: string; readonly cloth: string; readonly light: string },
): string => {
  const title = [strip.dye, strip.cloth, strip.light].filter(Boolean).join(' · ') || 'Recorded strip';
  const lines = [
    wrapped(`Recorded: ${title}`),
    '',
    ...scrapTable(answer),
    '',
    wrapped(answer.sentence),
    ...(answer.restated ? restatedLines(answer.restated) : []),
    ...answer.warnings.map((warning) => wrapped(`Note: ${warning.message}`)),
    '',
    wrapped('A starting point: check the restated time on a scrap before an expensive piece.'),
  ];
  return `${lines.join('\n')}\n`;
};
