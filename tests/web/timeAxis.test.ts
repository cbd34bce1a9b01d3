import { describe, expect, it } from 'vitest';
import { layTimeAxis, roomForLabels } from '../../web/timeAxis.ts';

const WHOLE_STOPS = [0, 30, 60, 120, 240, 480];

describe('layTimeAxis', () => {
  it('sets equal stops at equal distances', () => {
    const axis = layTimeAxis(WHOLE_STOPS, 30, 358);
    const places = WHOLE_STOPS.slice(1).map(axis.place);
    const gaps = places.slice(1).map((x, i) => x - places[i]);
    for (const gap of gaps) expect(gap).toBeCloseTo(gaps[0], 9);
  });

  it('parts the unexposed base off left of every exposed step', () => {
    const axis = layTimeAxis(WHOLE_STOPS, 30, 358);
    expect(axis.basePx).toBeGreaterThan(30);
    expect(axis.basePx).toBeLessThan(axis.breakPx ?? 0);
    expect(axis.place(30)).toBeGreaterThan(axis.breakPx ?? 0);
  });

  it('has no column for a base that the strip does not have', () => {
    const axis = layTimeAxis([30, 60, 120], 30, 358);
    expect(axis.basePx).toBeNull();
    expect(axis.breakPx).toBeNull();
  });

  it('reaches one stop past the longest step, as far as an answer may lie', () => {
    const axis = layTimeAxis(WHOLE_STOPS, 30, 358);
    expect(axis.place(960)).toBeLessThanOrEqual(358);
    expect(axis.place(960)).toBeGreaterThan(axis.place(480));
  });

  it('goes from pixels back to the same time within 1e-9', () => {
    const axis = layTimeAxis(WHOLE_STOPS, 30, 358);
    for (const seconds of [31, 77, 300, 700])
      expect(axis.secondsAt(axis.place(seconds)) / seconds).toBeCloseTo(1, 9);
  });

  it.each([[[60]], [[0, 60]], [[60, 60, 60]], [[1, 86_400]], [Array.from({ length: 60 }, (_, i) => 60 + i)]])(
    'lays out %j without a number that is none',
    (seconds) => {
      const axis = layTimeAxis(seconds, 30, 358);
      for (const s of seconds) {
        const x = s > 0 ? axis.place(s) : (axis.basePx ?? Number.NaN);
        expect(x).toBeGreaterThanOrEqual(30);
        expect(x).toBeLessThanOrEqual(358);
      }
    },
  );
});

describe('roomForLabels', () => {
  it('leaves out labels closer than 40 px to the one before, never the last', () => {
    expect(roomForLabels([0, 20, 50, 60, 100, 120], 40)).toEqual([true, false, true, false, false, true]);
  });
});
