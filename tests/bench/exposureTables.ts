import type { ExposureParts } from './exposureParts.ts';
import type { Measured } from './measure.ts';
import type { NextResult } from './nextStrip.ts';
import { percentile, row, share } from './tables.ts';

const both = (values: readonly (number | null | undefined)[]): string => {
  const sizes = values.flatMap((v) => (v === null || v === undefined ? [] : [Math.abs(v)]));
  return sizes.length === 0
    ? '-'
    : `${percentile(sizes, 50).toFixed(3)} / ${percentile(sizes, 90).toFixed(3)}`;
};

/** Where the error of an exposure comes from, and how full depth fares. */
export const exposureLines = (measured: readonly Measured[]): string[] => {
  const several = measured.filter((m) => m.card !== 'grey-18');
  const parts = (group: readonly Measured[], pick: (p: ExposureParts) => number | null) =>
    both(group.flatMap((m) => (m.exposure ? [pick(m.exposure.parts)] : [])));
  const full = measured.flatMap((m) => (m.full ? [m.full] : []));
  const held = [
    ...measured.flatMap((m) => (m.exposure?.inInterval == null ? [] : [m.exposure.inInterval])),
    ...full.map((f) => f.inInterval),
  ];
  return [
    '\nWhere that error comes from: the same fit to other L*, |error| in stops, median / 90th percentile',
    row(['card', 'as read', 'exact L*', 'stated noise', 'shared error', 'own errors']),
    ...(
      [
        ['white-grey-black', measured.filter((m) => m.card === 'white-grey-black')],
        ['three patches or more', several],
      ] as const
    ).map(([name, group]) =>
      row([
        name,
        both(group.map((m) => m.exposure?.advised)),
        parts(group, (p) => p.exactL),
        parts(group, (p) => p.statedNoise),
        parts(group, (p) => p.sharedError),
        parts(group, (p) => p.ownErrors),
      ]),
    ),
    '\nFull depth: |error| in stops, how often the 90 % interval holds, its median width; and with the targets above',
    row([
      `${full.length} strips`,
      both(full.map((f) => f.error)),
      share(full.map((f) => f.inInterval)),
      full.length > 0
        ? percentile(
            full.map((f) => f.widthStops),
            50,
          ).toFixed(2)
        : '-',
      `all ${held.length} intervals: ${share(held)}`,
    ]),
  ];
};

/** What following the advised next strip did, and whether it kept its promise. */
export const nextStripLines = (name: string, followed: readonly NextResult[]): string[] => {
  if (followed.length === 0) return [row([name, 'no strip had one'])];
  const middle = (values: readonly number[]) => percentile(values, 50).toFixed(3);
  const kept = followed.flatMap((r) => (r.promised === null ? [] : [r.widthAfter / r.promised]));
  return [
    row([name, `${followed.length} strips`]),
    row([
      'first strip',
      `error ${middle(followed.map((r) => r.before))}`,
      `width ${middle(followed.map((r) => r.widthBefore))}`,
    ]),
    row([
      'both together',
      `error ${middle(followed.map((r) => r.after))}`,
      `width ${middle(followed.map((r) => r.widthAfter))}`,
    ]),
    row([
      'width over promise',
      kept.length === 0
        ? '-'
        : `median ${percentile(kept, 50).toFixed(2)}, 10th to 90th percentile ${percentile(kept, 10).toFixed(2)} to ${percentile(kept, 90).toFixed(2)}`,
    ]),
  ];
};
