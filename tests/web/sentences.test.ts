import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { advise } from '../../analysis/advice/advise.ts';
import { judgeSteps } from '../../analysis/advice/verdict.ts';
import { fitCurve } from '../../analysis/curve/fitCurve.ts';
import type { Layout } from '../../analysis/plan/covers.ts';
import { planStrip } from '../../analysis/plan/plan.ts';
import type { StepReading } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { adviceText } from '../../web/sentences/adviceText.ts';
import { moveText } from '../../web/sentences/moveText.ts';
import { labelText, seriesText } from '../../web/sentences/planText.ts';
import { stopsText } from '../../web/sentences/stopsText.ts';
import { verdictText } from '../../web/sentences/verdictText.ts';
import { speak } from '../../web/words.ts';
import { type Dye, exactPoints } from '../analysis/curve/trueStrips.ts';

const BLUE: Dye = { law: 'exponential', over: 'K/S', baseL: 91, deepestL: 28, scaleSeconds: 180 };
const TIMES = [0, 30, 60, 120, 240, 480, 960, 1920];
const outcome = fitCurve(exactPoints(BLUE, TIMES));

beforeEach(() => speak('en'));
afterEach(() => speak('en'));

// The planner and the adviser word their own sentences in English, from the same numbers: in English the two must agree,
// so that the German ones, filled with the same numbers, are true as well.
describe('a sentence of the page in English', () => {
  it.each<readonly [string, Target]>([
    ['L* 50', { kind: 'L', L: 50 }],
    ['L* 45.5', { kind: 'L', L: 45.5 }],
    ['80 % depth', { kind: 'depth', percent: 80 }],
    ['full depth', { kind: 'full' }],
    ['a swatch', { kind: 'swatch', L: 45, a: 0, b: 0 }],
  ])('advises for %s as the adviser does', (_, target) => {
    const advice = advise(outcome, target);
    expect(adviceText(advice, outcome)).toBe(advice.sentence);
  });

  it('says that a strip ends before the target as the adviser does', () => {
    const short = fitCurve(exactPoints(BLUE, [0, 10, 20, 40, 80]));
    const advice = advise(short, { kind: 'L', L: 40 });
    expect(advice.status).toBe('beyond');
    expect(adviceText(advice, short)).toBe(advice.sentence);
  });

  it('names the numbers of a target that no exposure gives', () => {
    const advice = advise(outcome, { kind: 'L', L: 96 });
    expect(advice.status).toBe('unattainable');
    expect(adviceText(advice, outcome)).toMatch(/L\* 96.*91\.0/);
  });

  it('judges every step of a long strip as the judge does', () => {
    const points = exactPoints(BLUE, TIMES);
    const steps = points.map(({ seconds, L, uL }) => ({
      seconds,
      L,
      uL,
      deltaEToBase: Math.abs(L - points[0].L),
    }));
    const judged = judgeSteps(steps, outcome);
    expect(new Set(judged.map(({ verdict }) => verdict)).size).toBeGreaterThan(2);
    steps.forEach((step, i) => {
      const read = { ...step, verdict: judged[i].verdict } as unknown as StepReading;
      expect(verdictText(read, outcome)).toBe(judged[i].reason);
    });
  });

  it.each<readonly [string, Layout]>([
    ['covering', { kind: 'strip', direction: 'covering' }],
    ['uncovering', { kind: 'strip', direction: 'uncovering' }],
    ['scraps together', { kind: 'scraps', exposed: 'together' }],
    ['scraps in turn', { kind: 'scraps', exposed: 'in-turn' }],
  ])('says moves and labels as the planner does, %s', (_, layout) => {
    for (const base of [true, false]) {
      const plan = planStrip({
        start: { kind: 'nothing', count: 4 },
        light: 'led',
        layout,
        base,
        name: 'kelp',
      });
      plan.moves.forEach((move, i) => {
        expect(moveText(plan, i)).toBe(move.text);
      });
      for (const step of plan.steps)
        expect(labelText(step, 'kelp').toLowerCase()).toBe(step.label.toLowerCase());
    }
  });
});

describe('a sentence in German', () => {
  it('has decimal commas, German words and the same times', async () => {
    await speak('de');
    const advice = advise(outcome, { kind: 'L', L: 45.5 });
    const text = adviceText(advice, outcome);
    expect(text).toMatch(/^Belichte \d\d:\d\d für L\* 45,5: Das ergibt L\* 45,\d, \d\d % Tiefe\. In neun/);
    expect(text).not.toMatch(/\d\.\d/);
  });

  it('says half a stop as 1/2 Blende, and 1.13 stops as 1,13 Blenden', async () => {
    await speak('de');
    expect(stopsText(0.5)).toBe('1/2 Blende');
    expect(stopsText(1)).toBe('1 Blende');
    expect(stopsText(1.13)).toBe('1,13 Blenden');
  });

  it('sums up a series', async () => {
    await speak('de');
    const layout: Layout = { kind: 'strip', direction: 'covering' };
    expect(seriesText(planStrip({ start: { kind: 'nothing' }, light: 'led', layout }))).toBe(
      '7 belichtete Stufen, je 1 Blende auseinander, von 00:30 bis 32:00.',
    );
  });
});
