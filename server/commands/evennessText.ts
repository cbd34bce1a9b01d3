import type { Evenness } from '../../analysis/across/evenness.ts';
import type { EvennessAnswer } from '../contracts/evenness.ts';
import { figureText } from './figureText.ts';
import { wrapped } from './wrapped.ts';

type EvennessMap = Extract<Evenness, { kind: 'map' }>;

/** Columns of cells up to which the map has room for numbers. */
const MOST_NUMBERED = 15;

const isUsable = ({ usableArea: area }: EvennessMap, row: number, column: number): boolean =>
  area !== null &&
  row >= area.row &&
  row < area.row + area.rows &&
  column >= area.column &&
  column < area.column + area.columns;

/** The dose of each cell in percent; brackets hold what can be used. */
const numbered = (map: EvennessMap): string[] =>
  map.relativeDose.map((line, row) =>
    line
      .map((dose, column) => {
        const percent = dose === null ? '?' : (100 * dose).toFixed(0);
        return (isUsable(map, row, column) ? `[${percent}]` : ` ${percent} `).padStart(5);
      })
      .join('')
      .trimEnd(),
  );

/** One sign a cell, for sheets of many cells. */
const signed = (map: EvennessMap): string[] => {
  const { tolerancePercent } = map;
  return map.relativeDose.map((line) =>
    line
      .map((dose) => {
        if (dose === null) return '?';
        const off = 100 * (dose - 1);
        return off > tolerancePercent ? '+' : off < -tolerancePercent ? '−' : '=';
      })
      .join(''),
  );
};

const percent = (share: number) => (100 * share).toFixed(0);

/** The map for a person: the sheet as it lay, then what can be used and what to change. */
export const evennessText = (map: Evenness): string => {
  if (map.kind !== 'map') return `${wrapped(map.sentence)}\n`;
  const isNumbered = map.relativeDose[0].length <= MOST_NUMBERED;
  const lines = [
    isNumbered
      ? 'Light per cell in percent; [ ] holds the largest usable rectangle.'
      : `Light per cell: = within ±${map.tolerancePercent} %, − less, + more, ? not read.`,
    '',
    ...(isNumbered ? numbered(map) : signed(map)),
    '',
    wrapped(map.sentence),
    `Within ±${map.tolerancePercent} %: ${figureText(map.usableShare, percent, '% of the cells')}.`,
    `Most over least light: ${figureText(map.doseRatio, (ratio) => ratio.toFixed(2))}.`,
    wrapped(
      map.basis === 'smooth'
        ? 'The map is the smooth field that fits the cells within their uncertainty.'
        : 'The map shows the cells themselves: they differ more than a smooth field and their uncertainty allow.',
    ),
  ];
  if (map.openPercent)
    lines.push(
      wrapped(
        `The light of the photo itself leaves ${map.openPercent.across.toFixed(0)} % from left to right and ${map.openPercent.down.toFixed(0)} % from top to bottom open (90 %).`,
      ),
    );
  lines.push(...map.warnings.map(({ message }) => wrapped(`Note: ${message}`)));
  return `${lines.join('\n')}\n`;
};

/** The same for a sheet read from its photo, with what was said of the photo. */
export const sheetText = ({ evenness, sheet }: EvennessAnswer): string => {
  const notes = [
    `Light of the photo: ${sheet?.illumination.reason}.`,
    ...(sheet?.warnings ?? []).map(({ message }) => `Note: ${message}`),
  ];
  return `${evennessText(evenness)}${notes.map((note) => `${wrapped(note)}\n`).join('')}`;
};
