import { baselineTexts } from '../../analysis/across/baseline.ts';
import type { ReadingLine } from '../../server/contracts/recordReadings.ts';
import type { Control } from '../../server/contracts/recordUse.ts';

/** Control scraps that are held against one calibration under one light: what one chart can show. */
export interface Series {
  readonly key: string;
  /** The newest reading of the calibration's photo that a scrap is held against. */
  readonly againstId: string;
  readonly dyeId: string;
  readonly clothId: string;
  readonly lightId: string;
  /** Oldest first. */
  readonly scraps: readonly Control[];
}

/** The first reading of a photo, however often it was read again: scraps held against any of them go together. */
const firstReadings = (
  lines: readonly Pick<ReadingLine, 'id' | 'supersedesId'>[],
): ((id: string) => string) => {
  const earlier = new Map(lines.map(({ id, supersedesId }) => [id, supersedesId]));
  return (id) => {
    let first = id;
    for (let steps = 0; steps < lines.length; steps++) {
      const before = earlier.get(first);
      if (!before) break;
      first = before;
    }
    return first;
  };
};

/** Sorts control scraps into the charts that they belong to; the chart with the newest scrap comes first. */
export const seriesOf = (
  controls: readonly Control[],
  calibrations: readonly Pick<ReadingLine, 'id' | 'supersedesId'>[],
): readonly Series[] => {
  const firstOf = firstReadings(calibrations);
  const groups = new Map<string, Control[]>();
  for (const control of [...controls].sort((a, b) => a.exposedAt.localeCompare(b.exposedAt))) {
    const key = `${firstOf(control.againstId)} ${control.lightId}`;
    groups.set(key, [...(groups.get(key) ?? []), control]);
  }
  return [...groups]
    .map(([key, scraps]) => {
      const { againstId, dyeId, clothId, lightId } = scraps[scraps.length - 1];
      return { key, againstId, dyeId, clothId, lightId, scraps };
    })
    .sort((a, b) => newestOf(b).localeCompare(newestOf(a)));
};

const newestOf = ({ scraps }: Series): string => scraps[scraps.length - 1].exposedAt;

/** What is charted: scraps that tell a shift, each with the text of its baseline. */
export interface ChartRecord {
  readonly date: string;
  readonly setup: string;
  readonly lampHours?: number;
  readonly shiftStops: number;
}

/** A scrap is on the chart where it is not put away and tells a shift. */
export const isCharted = ({ putAwayAt, shiftStops }: Control): boolean =>
  putAwayAt === null && shiftStops.value !== null;

export const recordsOf = ({ scraps }: Series): readonly ChartRecord[] => {
  const charted = scraps.filter(isCharted);
  const setups = baselineTexts(charted);
  return charted.map(({ exposedAt, lampHours, shiftStops }, i) => ({
    date: exposedAt,
    setup: setups[i],
    ...(lampHours !== null && { lampHours }),
    shiftStops: shiftStops.value ?? 0,
  }));
};

/**
 * The number that each scrap of a series has on its chart, which begins with the `from`-th charted scrap; null where it
 * is not on it.
 */
export const numbersOf = ({ scraps }: Series, from: number): readonly (number | null)[] => {
  let charted = 0;
  return scraps.map((scrap) => {
    if (!isCharted(scrap)) return null;
    charted += 1;
    return charted > from ? charted - from : null;
  });
};
