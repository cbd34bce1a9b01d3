import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { compareDyes } from '../../analysis/across/compare.ts';
import { readDrift } from '../../analysis/across/drift.ts';
import { readEvenness, type SheetCell } from '../../analysis/across/evenness.ts';
import { restateTime, transferByControl } from '../../analysis/across/transfer.ts';
import { planFromCurve } from '../../analysis/advice/planFromCurve.ts';
import { judgeSteps } from '../../analysis/advice/verdict.ts';
import { bootstrapCurve } from '../../analysis/curve/bootstrap.ts';
import { fitCurve } from '../../analysis/curve/fitCurve.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import { type PlanRequest, planStrip } from '../../analysis/plan/plan.ts';
import { type Circumstances, doubtsOf } from '../../server/record/doubts.ts';
import { type Moved, movedBySky } from '../../server/record/movedTime.ts';
import { bringPhrases, speak } from '../../web/words.ts';
import { INDIGO, knownCurve, knownL } from '../analysis/across/knownCurve.ts';
import { type Dye, exactPoints } from '../analysis/curve/trueStrips.ts';
import { holdTogether } from './holdTogether.ts';
import { sentencesIn } from './saidIn.ts';

beforeAll(async () => {
  await speak('de');
  await bringPhrases();
});
afterAll(() => speak('en'));

const curve = knownCurve(INDIGO);
const recorded = { curve, set: bootstrapCurve(curve, { count: 60 }) };
const scrap = (seconds: number, shift: number) => ({
  seconds,
  L: knownL(INDIGO, seconds * 2 ** shift),
  uL: 0.5,
});

/** Sentences there are, and all hold together. */
const hold = (answer: unknown, least = 1): void => {
  const sentences = sentencesIn(answer);
  expect(sentences.length).toBeGreaterThanOrEqual(least);
  holdTogether(sentences);
};

describe('German sentences across strips have the numbers of the English ones', () => {
  const dye = (name: string, cloth: string, halfSeconds: number, deepestL: number) => {
    const known = knownCurve({ ...INDIGO, halfSeconds, deepestL });
    return { name, cloth, light: 'tubes', curve: known, set: bootstrapCurve(known, { count: 60 }) };
  };

  it('for dyes that differ, and dyes that do not', () => {
    const entries = [dye('a', 'silk', 120, 30), dye('b', 'silk', 240, 40), dye('c', 'silk', 240, 40)];
    hold(compareDyes(entries), 3);
  });

  it('for strips on two cloths', () => {
    hold(compareDyes([dye('a', 'silk', 120, 30), dye('b', 'hemp', 240, 40)]));
  });

  it.each([
    ['a faster light', [scrap(60, 0.4)]],
    ['a slower one', [scrap(240, -1.3)]],
    ['scraps that disagree', [scrap(60, 0), scrap(240, 0.5)]],
    ['one scrap of two left out', [scrap(120, 0), scrap(2, 0)]],
    ['only pale scraps', [scrap(2, 0), scrap(3, 0)]],
    ['only deep scraps', [scrap(9000, 0)]],
  ])('for a transfer by %s', (_, scraps) => {
    hold(transferByControl(recorded, scraps));
  });

  it('for a target that the recorded strip does not vouch for', () => {
    hold(restateTime(recorded, [scrap(120, 0)], 20));
  });

  const records = (count: number, shift: (i: number) => number) =>
    Array.from({ length: count }, (_, i) => ({ shiftStops: shift(i), setup: 'tubes', lampHours: 10 * i }));
  const noise = (i: number) => 0.02 * Math.sin(7 * i);
  it.each([
    ['seven scraps', records(7, noise)],
    ['one after a change', [...records(9, noise), { shiftStops: 0, setup: 'new tubes' }]],
    ['a steady light', records(25, noise)],
    ['provisional limits', records(9, noise)],
    ['a jump', records(25, (i) => (i === 24 ? -0.4 : noise(i)))],
    ['a lamp that fades', records(30, (i) => noise(i) - (i < 10 ? 0 : 0.03 * (i - 10)))],
  ])('for the drift of %s', (_, series) => {
    hold(readDrift(series));
  });

  const sheet = (dose: (x: number, y: number) => number): SheetCell[][] =>
    Array.from({ length: 9 }, (_, r) =>
      Array.from({ length: 12 }, (_, c) => ({
        L: knownL(INDIGO, 160 * dose(c / 5.5 - 1, r / 4 - 1)),
        uL: 0.1,
      })),
    );
  it.each<readonly [string, (x: number, y: number) => number]>([
    ['even', () => 1],
    ['low on one side', (x) => 2 ** (0.3 * x)],
    ['low towards a corner of sides', (x, y) => 2 ** (0.3 * x + 0.3 * y)],
    ['low at the edges', (x, y) => 2 ** (-0.4 * (x * x + y * y))],
    ['low in the middle', (x) => 2 ** (0.4 * x * x)],
    ['low in one row', (_, y) => (y === 0 ? 0.7 : 1)],
    ['in bands', (x) => 2 ** (0.2 * Math.cos(5.5 * Math.PI * (x + 1)))],
    ['low in one corner', (x, y) => (x < -0.4 && y < -0.4 ? 0.6 : 1)],
    ['much too short', () => 0.02],
    ['much too long', () => 60],
    ['past the longest step', (x) => (x > 0.5 ? 7 : 1.6)],
  ])('for a bed that is %s', (_, dose) => {
    hold(readEvenness(sheet(dose), recorded));
  });
});

describe('German sentences of plans have the numbers of the English ones', () => {
  const common = { light: 'tubes', layout: { kind: 'strip', direction: 'covering' } } as const;
  const planned = (request: Omit<PlanRequest, 'light' | 'layout'> & Partial<PlanRequest>): unknown => {
    try {
      return { warnings: planStrip({ ...common, ...request }).warnings };
    } catch (error) {
      if (error instanceof AnalysisError) return { message: error.message, phrase: error.phrase };
      throw error;
    }
  };
  const times = (...seconds: number[]) => ({ start: { kind: 'times', seconds } as const });

  it.each<readonly [string, Parameters<typeof planned>[0]]>([
    ['too coarse and without a base', { ...times(10, 40, 160, 640), base: false }],
    ['too fine', times(100, 103, 106, 109)],
    ['of few steps', times(30, 60)],
    ['of steps that merge', { ...times(1, 2, 3, 60, 120), timerStepSeconds: 5 }],
    ['of moves too close', times(2, 4, 8, 16, 32)],
    ['long in the sun', { ...times(600, 1200, 2400, 4800), light: 'sun' }],
    ['by a maker for the sun', { start: { kind: 'maker', seconds: 300, madeFor: 'sun' } }],
    [
      'under another sky',
      { start: { kind: 'maker', seconds: 300, madeFor: 'sun', sky: 'overcast' }, light: 'sun' },
    ],
    ['of one step', times(30)],
    ['with a time twice', times(30, 30, 60)],
    ['on one setting of the timer', { ...times(1, 2), timerStepSeconds: 60 }],
    ['longer than a day', { start: { kind: 'equal-stop', firstSeconds: 3600, stopsPerStep: 4, count: 9 } }],
  ])('for a strip %s', (_, request) => {
    // Stops stand as fractions in the English text where they are some.
    holdTogether(sentencesIn(planned(request)), { fractions: true });
  });

  it('for a target past the curve’s longest step', () => {
    const BLUE: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
    const short = fitCurve(exactPoints(BLUE, [0, 10, 20, 40, 80]));
    if (short.kind !== 'fitted') throw new Error('no curve');
    const target = { kind: 'depth', percent: 95 } as const;
    const plan = planFromCurve({ ...common, curve: short.curve, target, stopsPerStep: 1 });
    expect(plan.warnings.map(({ code }) => code)).toContain('target-beyond-curve');
    holdTogether(sentencesIn({ warnings: plan.warnings }), { fractions: true });
  });

  it.each([
    ['an L* that the dye never gets to', { kind: 'L', L: 5 }],
    ['a depth of 100 %, which no time reaches', { kind: 'depth', percent: 100 }],
  ] as const)('for %s', (_, target) => {
    const plan = planFromCurve({ ...common, curve, target });
    const said = plan.warnings.filter(({ code }) => code === 'target-unattainable');
    expect(said.length).toBe(1);
    // "full" as a target, within 1 L* of the deepest, is typed on the command line.
    holdTogether(sentencesIn({ said }));
  });
});

describe('German verdicts have the numbers of the English ones', () => {
  const BLUE: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
  const points = exactPoints(BLUE, [0, 2, 30, 60, 120, 240, 480, 960, 1920]);
  const steps = points.map(({ seconds, L, uL }) => ({
    seconds,
    L,
    uL,
    deltaEToBase: Math.abs(L - points[0].L),
  }));
  const count = { kind: 'count-differs', message: '', points } as const;

  it('by the curve, by settings of one’s own, and without a curve', () => {
    hold(judgeSteps(steps, fitCurve(points)), 9);
    hold(judgeSteps(steps, fitCurve(points), { leastDepthPercent: 12.5, fullWithinL: 2 }), 9);
    hold(judgeSteps(steps, count), 9);
    hold(judgeSteps([{ ...steps[3], deltaEToBase: null }, steps[4]], fitCurve([points[3]])), 2);
  });
});

describe('German doubts have the numbers of the English ones', () => {
  const batch = { id: 'b1', name: 'Ansatz A', mixedAt: '2026-05-01T08:00:00Z' };
  const control = {
    id: 'c1',
    exposedAt: '2026-05-20T08:00:00Z',
    scraps: [],
    setup: '',
    lampHours: null,
    shiftStops: 0.1,
  };
  const still = movedBySky('clear', 'clear');
  const usual: Circumstances = {
    at: '2026-08-01T08:00:00Z',
    lightKind: 'lamps',
    lampHours: 300,
    sky: null,
    batch,
    cardId: 'k1',
    calibration: {
      exposedAt: '2026-05-02T08:00:00Z',
      lampHours: 100,
      sky: null,
      batch,
      cardId: 'k2',
      relative: true,
      marksConfirmed: false,
      methodVersion: '3',
      otherLight: true,
    },
    newestControl: null,
    calibrationCardKey: 'k2',
    printsMissed: { by: 'measured', stops: 0.4, count: 3 },
  };
  const then = usual.calibration;
  const told = { exposedAt: control.exposedAt, told: false, batchId: 'b2', lampHours: null, cardKey: null };
  const other = { ...batch, id: 'b2', name: 'Ansatz B' };
  const wide = {
    kind: 'time',
    seconds: 90,
    low: 60,
    high: 130,
    highOpen: false,
    latest: 900,
    onStrip: false,
  } as const;
  const moved = (over: Partial<Moved>): Moved => ({ ...still, ...over });

  it.each<readonly [string, Circumstances, Moved]>([
    ['long-burnt lamps and an old batch', usual, still],
    ['new lamps', { ...usual, lampHours: 3 }, still],
    ['hours not known today', { ...usual, lampHours: null }, still],
    ['hours never known', { ...usual, lampHours: null, calibration: { ...then, lampHours: null } }, still],
    ['no batch at all', { ...usual, batch: null, calibration: { ...then, batch: null } }, still],
    ['no batch today', { ...usual, batch: null }, still],
    ['no batch then', { ...usual, calibration: { ...then, batch: null } }, still],
    ['another batch', { ...usual, batch: other }, still],
    [
      'another batch that was tried',
      { ...usual, batch: other, newestControl: told },
      moved({ by: 'control', controls: [control] }),
    ],
    ['the sun', { ...usual, lightKind: 'sun', sky: 'overcast' }, still],
    ['another sky', { ...usual, lightKind: 'sun' }, movedBySky('clear', 'overcast')],
    [
      'the sun and a fresh control scrap',
      { ...usual, lightKind: 'sun' },
      moved({ by: 'control', controls: [{ ...control, exposedAt: '2026-08-01T07:00:00Z' }] }),
    ],
    [
      'prints judged by eye',
      { ...usual, printsMissed: { by: 'eye', side: 'paler', count: 5, of: 6 } },
      still,
    ],
    ['an old calibration', { ...usual, at: '2028-08-01T08:00:00Z' }, still],
  ])('for %s', (_, circumstances, how) => {
    hold(doubtsOf(circumstances, how, wide), 4);
    hold(doubtsOf(circumstances, how, { ...wide, highOpen: true }), 4);
  });
});
