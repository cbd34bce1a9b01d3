import { describe, expect, test } from 'vitest';
import { advise } from '../../../analysis/advice/advise.ts';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { INDIGO, knownSeconds } from '../../analysis/across/knownCurve.ts';
import { answerOf, knownReading, longestLine, scratch, textOf } from './readingFile.ts';

const file = scratch();
const indigo = file('indigo.json', knownReading());

const secondsOf = (plan: { steps: { seconds: number }[] }) => plan.steps.map((step) => step.seconds);

describe('tonestep plan', () => {
  test('knowing nothing takes 7 steps one stop apart from 30 s and a base', async () => {
    expect(secondsOf(await answerOf('plan'))).toEqual([0, 30, 60, 120, 240, 480, 960, 1920]);
    expect(secondsOf(await answerOf('plan', '--first', '8 s', '--count', '4'))).toEqual([0, 8, 16, 32, 64]);
  });

  test('lays thirds of a stop from 4 min as the printed table has them, its slip at 12:42 put right', async () => {
    // Table seen on alternativeprinting.co.uk (2016): 4'00 5'02 6'21 8'00 10'05 [13'42, a slip: 8 min · 2^(2/3) = 12'42] 16'00
    const plan = await answerOf('plan', '--first', '4:00', '--stops', '1/3', '--count', '7');
    expect(plan.steps.slice(1).map((step: { clock: string }) => step.clock)).toEqual([
      '04:00',
      '05:02',
      '06:21',
      '08:00',
      '10:05',
      '12:42',
      '16:00',
    ]);
  });

  test('lays 2, 4, 6, 8 s apart by equal times', async () => {
    // Cumulative strip of US Navy training text 14209
    expect(
      secondsOf(await answerOf('plan', '--first', '2', '--add', '2', '--count', '4', '--no-base')),
    ).toEqual([2, 4, 6, 8]);
  });

  test('puts a guess of 4 min in the middle of half stops', async () => {
    expect(secondsOf(await answerOf('plan', '--around', '4 min', '--count', '3'))).toEqual([
      0, 170, 240, 339,
    ]);
  });

  test('covering and uncovering give every step its own time, whatever the way of the cover', async () => {
    for (const layout of ['covering', 'uncovering', 'scraps-together', 'scraps-in-turn']) {
      const plan = await answerOf('plan', '--first', '10', '--count', '5', '--layout', layout);
      const lit = new Map<number, number>();
      for (const burst of plan.bursts)
        for (const step of burst.litSteps) lit.set(step, (lit.get(step) ?? 0) + burst.seconds);
      expect([...lit.entries()].sort((a, b) => a[0] - b[0]).map(([, seconds]) => seconds)).toEqual([
        10, 20, 40, 80, 160,
      ]);
      expect(plan.lampSeconds).toBe(layout === 'scraps-in-turn' ? 310 : 160);
    }
  });

  test("stretches a maker's 10 min by 1 / 0.31 for an overcast sky and says how unsure that is", async () => {
    const plan = await answerOf('plan', '--maker', '10 min', '--light', 'sun', '--sky', 'overcast');
    // 31 % of clear-sky ultraviolet under an overcast sky: [domain-4.13], second-hand
    expect(plan.steps.map((step: { seconds: number }) => step.seconds)).toContain(
      Math.round((600 / 0.31) * 1),
    );
    expect(plan.warnings.map((w: { code: string }) => w.code)).toContain('sky-uncertain');
  });

  test('from a kept reading gives the very strip that the reading advised next', async () => {
    const reading = knownReading(INDIGO, 'indigo', 4);
    const target = { kind: 'depth', percent: 50 } as const;
    const next = advise({ kind: 'fitted', curve: reading.curve }, target).nextStrip;
    expect(next).not.toBeNull();
    const path = file('unsure.json', reading);
    expect(secondsOf(await answerOf('plan', '--curve', path))).toEqual(next?.seconds);
    expect(secondsOf(await answerOf('plan', '--curve', path, '--target', 'depth=50%'))).toEqual(
      next?.seconds,
    );
  });

  test("with a count of steps centres on the curve's time for the target, a third of a stop sooner where the light is that much faster", async () => {
    const half = await answerOf('plan', '--curve', indigo, '--count', '5');
    expect(secondsOf(half)).toContain(INDIGO.halfSeconds);
    const words = ['--count', '5', '--target', 'depth=80%', '--shift', '1/3'];
    const deeper = await answerOf('plan', '--curve', indigo, ...words);
    expect(secondsOf(deeper)).toContain(Math.round(knownSeconds(INDIGO, 0.8) / 2 ** (1 / 3)));
    const slower = await answerOf('plan', '--curve', indigo, '--count', '5', '--shift', '-1/3');
    expect(secondsOf(slower)).toContain(Math.round(INDIGO.halfSeconds * 2 ** (1 / 3)));
  });

  test('takes a list of times as people write them, in any order', async () => {
    const plan = await answerOf('plan', '--times', '2:00, 30, 1 min, 45 s');
    expect(secondsOf(plan)).toEqual([0, 30, 45, 60, 120]);
    expect(plan.moves.map((move: { atSeconds: number }) => move.atSeconds)).toEqual([0, 30, 45, 60, 120]);
    expect(secondsOf(await answerOf('plan', '--times', '30 60 2:00'))).toEqual([0, 30, 60, 120]);
  });

  test("beside a guess an earlier curve only checks the spacing: 1.45 stops are too coarse for indigo's scale", async () => {
    // Exposure scale of a logistic: 2 · log2(9) / n = 4.2 stops at n = 1.5, a third of it is 1.4
    const codes = async (...words: string[]) =>
      (await answerOf('plan', '--around', '2:00', '--timer-step', '0.1', ...words)).warnings.map(
        (w: { code: string }) => w.code,
      );
    expect(await codes('--stops', '1.4', '--curve', indigo)).not.toContain('steps-too-coarse');
    expect(await codes('--stops', '1.45', '--curve', indigo)).toContain('steps-too-coarse');
    expect(await codes('--stops', '1.45')).not.toContain('steps-too-coarse');
  });

  test('prints labels, moves by the clock, lamp time, notes and cautions within 80 columns', async () => {
    const text = await textOf('plan', '--light', 'tubes', '--name', 'scarf');
    expect(longestLine(text)).toBeLessThanOrEqual(80);
    expect(text).toContain('scarf · 4 · 04:00 · +3 stops');
    expect(text).toMatch(/^04:00 {2}Slide the cover over step 4\.$/m);
    expect(text).toContain('Lamp time: 32:00');
    expect(text).toContain('Let the tubes burn 5 to 10 min');
    expect(text).toContain('Ultraviolet lamps can hurt eyes and skin');
    expect(text).toContain('Never mix');
  });

  test('with the lamp off between moves prints how long to burn each time, which adds up to the lamp time', async () => {
    const text = await textOf('plan', '--first', '10', '--count', '4', '--lamp-off');
    const burns = [...text.matchAll(/^\d\d:\d\d {2}(\d\d):(\d\d) {2}\S/gm)].map(([, m, s]) => 60 * +m + +s);
    expect(burns).toEqual([10, 10, 20, 40]);
    expect(text).toContain('intermittency');
  });

  test('in turn under tubes prints where the scraps lie; together prints their places', async () => {
    expect(await textOf('plan', '--layout', 'scraps-together', '--count', '5')).toContain(
      'in a row: 1 5 2 4 3',
    );
    expect(await textOf('plan', '--layout', 'scraps-in-turn')).toContain('on the same spot');
  });

  test.each([
    [['--stops', '1/2'], /--stops needs .*--first/],
    [['--sky', 'overcast'], /--sky needs --maker/],
    [['--around', '60', '--first', '30'], /--first does not go with --around/],
    [['--around', '60', '--target', 'full'], /--target does not go with --around/],
    [['--add', '10'], /--first/],
    [['--maker', '600'], /--light/],
    [['--maker', '600', '--light', 'tubes', '--sky', 'clear'], /sky/],
    [['--around', 'soon'], /--around: "soon" is not a time/],
    [['--around', '60', '--stops', 'half'], /--stops: "half"/],
    [['--around', '-5'], /--around/],
    [['--times', '60, 60, 120'], /twice/],
    [['--times', '60, soon'], /--times: "soon" is not a time/],
    [['--times', '60, 120', '--count', '3'], /--count does not go with --times/],
    [['--times', '60, 120', '--around', '60'], /--around does not go with --times/],
    [['--count', '25'], /1 to 24/],
    [['--count', '1'], /at least two/],
    [['--layout', 'round'], /covering, uncovering, scraps-together, scraps-in-turn/],
    [['--timer-step', '0'], /--timer-step/],
  ] as const)('refuses %j with a sentence and exit 2', async (words, why) => {
    const { stderr, stdout, exit } = await runCommandLine(['plan', ...words]);
    expect({ exit, stdout }).toEqual({ exit: 2, stdout: '' });
    expect(stderr).toMatch(why);
  });
});
