import type { EvennessAnswer } from '../../server/contracts/evenness.ts';
import { formatNumber } from '../numbers.ts';
import { words } from '../words.ts';

export type BedMap = Extract<EvennessAnswer['evenness'], { kind: 'map' }>;
export type DoseUnit = 'percent' | 'stops';

/** Doses against the middle of what can be used, where something can: there the tolerance counts from. */
export const aroundUsable = (map: BedMap): BedMap => {
  const { usableArea: area, relativeDose } = map;
  if (area === null) return map;
  const inside = relativeDose
    .slice(area.row, area.row + area.rows)
    .flatMap((row) => row.slice(area.column, area.column + area.columns))
    .filter((dose) => dose !== null);
  const middle = (Math.min(...inside) + Math.max(...inside)) / 2;
  return {
    ...map,
    relativeDose: relativeDose.map((row) => row.map((dose) => (dose === null ? null : dose / middle))),
  };
};

/** A dose against the usable middle, as a person reads it. */
export const doseText = (dose: number, unit: DoseUnit): string => {
  const value = unit === 'percent' ? 100 * (dose - 1) : Math.log2(dose);
  const text = formatNumber(Math.abs(value), unit === 'percent' ? 0 : 2);
  if (Number(Math.abs(value).toFixed(unit === 'percent' ? 0 : 2)) === 0) return text;
  return `${value < 0 ? '−' : '+'}${text}`;
};

/** Lighter where there is more light; dark enough and light enough for black figures in any case. */
const greyOf = (dose: number): string => {
  const level = Math.round(Math.min(244, Math.max(132, 190 + 130 * Math.log2(dose))));
  return `rgb(${level}, ${level}, ${level})`;
};

const GAP = 4;

/** The bed from above: each cell with its figure, those out of tolerance with a sign, the usable area framed. */
export const DoseMap = ({ map, unit, widthPx }: { map: BedMap; unit: DoseUnit; widthPx: number }) => {
  const { relativeDose, tolerancePercent, usableArea } = map;
  const columns = relativeDose[0].length;
  const wide = (widthPx - 2 * GAP) / columns;
  const high = Math.min(64, Math.max(40, 0.8 * wide));
  const height = high * relativeDose.length + 2 * GAP;
  const off = (dose: number): string =>
    dose < 1 - tolerancePercent / 100 - 1e-9 ? '▼' : dose > 1 + tolerancePercent / 100 + 1e-9 ? '▲' : '';
  const frame = usableArea && {
    x: GAP + usableArea.column * wide,
    y: GAP + usableArea.row * high,
    width: usableArea.columns * wide,
    height: usableArea.rows * high,
  };
  return (
    <svg
      class="dose-map"
      width={widthPx}
      height={height}
      viewBox={`0 0 ${widthPx} ${height}`}
      role="img"
      aria-label={words.evenness.mapLabel(
        formatNumber(relativeDose.length, 0),
        formatNumber(columns, 0),
        words.evenness.pattern[map.pattern.code],
      )}
    >
      {relativeDose.map((row, r) =>
        row.map((dose, c) => {
          const [x, y] = [GAP + c * wide, GAP + r * high];
          return (
            <g key={`${r} ${c}`}>
              <rect
                x={x}
                y={y}
                width={wide}
                height={high}
                class="dose-cell"
                fill={dose === null ? 'none' : greyOf(dose)}
              />
              <text
                x={x + wide / 2}
                y={y + high / 2 + (dose !== null && off(dose) !== '' ? -1 : 5)}
                text-anchor="middle"
                class={dose === null ? 'dose-none' : 'dose-text'}
                font-size={wide < 40 ? 12 : 14}
              >
                {dose === null ? '?' : doseText(dose, unit)}
              </text>
              {dose !== null && off(dose) !== '' && (
                <text
                  x={x + wide / 2}
                  y={y + high / 2 + 15}
                  text-anchor="middle"
                  class="dose-text"
                  font-size={12}
                >
                  {off(dose)}
                </text>
              )}
            </g>
          );
        }),
      )}
      {frame && <rect {...frame} class="dose-frame under" />}
      {frame && <rect {...frame} class="dose-frame" />}
    </svg>
  );
};
