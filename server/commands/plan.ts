import { parseTarget } from '../../analysis/advice/target.ts';
import { SKIES } from '../../analysis/plan/sky.ts';
import type { LightKind } from '../../analysis/plan/start.ts';
import { planFor } from '../across/planning.ts';
import { layoutName, lightKind, type PlanQuestion } from '../contracts/plan.ts';
import { type Command, CommandError } from './command.ts';
import { choiceOf, numberOf, parseWords, secondsOf, stopsOf, wholeNumberOf } from './options.ts';
import { planText } from './planText.ts';
import { readStoredReading } from './storedReading.ts';

const LIGHTS = lightKind.options;
const LAYOUTS = layoutName.options;

/** Steps of a series given by its first time and its spacing, where no count is said. */
const USUAL_COUNT = 7;

const OPTIONS = {
  first: { type: 'string' },
  stops: { type: 'string' },
  add: { type: 'string' },
  times: { type: 'string' },
  around: { type: 'string' },
  maker: { type: 'string' },
  'maker-light': { type: 'string' },
  'maker-sky': { type: 'string' },
  sky: { type: 'string' },
  curve: { type: 'string' },
  target: { type: 'string' },
  shift: { type: 'string' },
  count: { type: 'string' },
  light: { type: 'string' },
  layout: { type: 'string' },
  'timer-step': { type: 'string' },
  'lamp-off': { type: 'boolean' },
  'no-base': { type: 'boolean' },
  name: { type: 'string' },
  json: { type: 'boolean' },
} as const;

type Values = ReturnType<typeof parseWords<typeof OPTIONS>>['values'];
type OptionName = keyof Values;

/** Which of the options that say what is known fit together, beside count, light and layout. */
const GROUPS: readonly (readonly [lead: OptionName, others: readonly OptionName[]])[] = [
  ['times', ['curve']],
  ['around', ['stops', 'curve']],
  ['maker', ['maker-light', 'maker-sky', 'sky', 'stops', 'curve']],
  ['add', ['first', 'curve']],
  ['first', ['stops', 'curve']],
  ['curve', ['target', 'shift', 'stops']],
];
const START_OPTIONS: readonly OptionName[] = [
  ...new Set(GROUPS.flatMap(([lead, others]) => [lead, ...others])),
];

const leadOf = (values: Values): OptionName | null => {
  const group = GROUPS.find(([lead]) => values[lead] !== undefined);
  const stray = START_OPTIONS.find(
    (option) => values[option] !== undefined && !group?.flat().includes(option),
  );
  if (stray !== undefined)
    throw new CommandError(
      'usage',
      group
        ? `--${stray} does not go with --${group[0]}`
        : `--${stray} needs ${GROUPS.filter(([, others]) => others.includes(stray))
            .map(([lead]) => `--${lead}`)
            .join(' or ')} beside it`,
    );
  return group?.[0] ?? null;
};

/** "30, 60, 2 min" or "30 60 2:00"; a comma parts two times here, so a decimal has a point. */
const timesOf = (text: string): number[] =>
  text
    .split(/[,;]/.test(text) ? /[,;]/ : /\s+(?![a-z])/i)
    .filter((time) => time.trim() !== '')
    .map((time) => secondsOf('times', time.trim()) as number);

const startOf = (values: Values, light: LightKind): PlanQuestion['start'] => {
  const count = wholeNumberOf('count', values.count, 1);
  const stopsPerStep = stopsOf('stops', values.stops);
  const firstSeconds = secondsOf('first', values.first);
  const counted = count === undefined ? {} : { count };
  const spaced = stopsPerStep === undefined ? {} : { stopsPerStep };
  const lead = leadOf(values);
  switch (lead) {
    case 'around':
      return {
        kind: 'around',
        guessSeconds: secondsOf('around', values.around) as number,
        ...spaced,
        ...counted,
      };
    case 'maker': {
      if (values.light === undefined)
        throw new CommandError('usage', '--maker needs --light, the light that you print under');
      const madeForSky = choiceOf('maker-sky', values['maker-sky'], SKIES);
      const sky = choiceOf('sky', values.sky, SKIES);
      return {
        kind: 'maker',
        seconds: secondsOf('maker', values.maker) as number,
        madeFor: choiceOf('maker-light', values['maker-light'], LIGHTS) ?? light,
        ...(madeForSky && { madeForSky }),
        ...(sky && { sky }),
        ...spaced,
        ...counted,
      };
    }
    case 'add':
      if (firstSeconds === undefined) throw new CommandError('usage', '--add needs --first beside it');
      return {
        kind: 'equal-time',
        firstSeconds,
        addedSeconds: secondsOf('add', values.add) as number,
        count: count ?? USUAL_COUNT,
      };
    case 'times':
      if (count !== undefined)
        throw new CommandError('usage', '--count does not go with --times, which lists every step');
      return { kind: 'times', seconds: timesOf(values.times as string) };
    case 'curve': {
      const shiftStops = stopsOf('shift', values.shift);
      return {
        kind: 'curve',
        ...(values.target === undefined ? {} : { target: parseTarget(values.target) }),
        ...(shiftStops === undefined ? {} : { shiftStops }),
        ...spaced,
        ...counted,
      };
    }
    case 'first':
      if (stopsPerStep !== undefined)
        return {
          kind: 'equal-stop',
          firstSeconds: firstSeconds as number,
          stopsPerStep,
          count: count ?? USUAL_COUNT,
        };
      return { kind: 'nothing', firstSeconds: firstSeconds as number, ...counted };
    default:
      return { kind: 'nothing', ...counted };
  }
};

/** `tonestep plan`: which strip to make, and how the hands go about it. */
export const plan: Command = {
  name: 'plan',
  usage: [
    '[--first TIME] [--count N]',
    '--first TIME --stops STOPS [--count N]',
    '--first TIME --add TIME [--count N]',
    '--around TIME [--stops STOPS] [--count N]',
    '--maker TIME --light LIGHT [--maker-light LIGHT] [--maker-sky SKY] [--sky SKY]',
    '--times "TIME, TIME, …"',
    '--curve READING.json [--target TARGET] [--shift STOPS]',
  ],
  summary: 'plans a test strip: step times, when the cover moves, lamp time, labels, what to mind',
  options: [
    ['--first TIME', 'shortest step; alone it starts a wide strip one stop apart (30 s when left out)'],
    ['--stops STOPS', 'steps this many stops apart: 1, 1/2, 1/3'],
    ['--add TIME', 'steps this much time apart'],
    ['--times LIST', 'just these steps: "30, 60, 1:45"'],
    ['--around TIME', 'steps around a guess'],
    ['--maker TIME', "from the maker's suggested time"],
    ['--maker-light LIGHT', "the light that the maker's time is for; --light when left out"],
    ['--maker-sky SKY', "the sky that the maker's time is for; clear when left out"],
    ['--sky SKY', `the sky that you print under: ${SKIES.join(', ')}`],
    [
      '--curve FILE',
      'an earlier reading: the strip that tells most about its target, or with --stops or --count an even series around it; beside another series it checks the spacing',
    ],
    ['--target TARGET', '"L=45", "depth=80%", "full", "swatch=L,a,b"; the reading\'s own when left out'],
    ['--shift STOPS', "by how many stops the light now works faster (+) or slower (-) than the curve's"],
    ['--count N', 'exposed steps'],
    ['--light LIGHT', `what you print under: ${LIGHTS.join(', ')} (other when left out)`],
    ['--layout LAYOUT', `${LAYOUTS.join(', ')} (covering when left out)`],
    ['--timer-step SECONDS', 'smallest change of your timer, 1 when left out'],
    ['--lamp-off', 'the lamp goes off while the cover moves'],
    ['--no-base', 'without an unexposed step'],
    ['--name TEXT', 'stands on every label'],
    ['--json', 'one JSON object'],
  ],
  run: async (words) => {
    const { values, positionals } = parseWords(words, OPTIONS);
    if (positionals.length > 0) throw new CommandError('usage', `"${positionals[0]}" is one word too many`);
    const light = choiceOf('light', values.light, LIGHTS) ?? 'other';
    const layout = choiceOf('layout', values.layout, LAYOUTS) ?? 'covering';
    const timerStepSeconds = numberOf('timer-step', values['timer-step'], 0.01);
    const stored = values.curve === undefined ? null : await readStoredReading(values.curve);
    const made = planFor(
      {
        start: startOf(values, light),
        light,
        layout,
        lampDuringMoves: values['lamp-off'] ? 'off' : 'on',
        base: !values['no-base'],
        ...(timerStepSeconds === undefined ? {} : { timerStepSeconds }),
        ...(values.name === undefined ? {} : { name: values.name }),
      },
      stored,
    );
    return { text: planText(made, light, values['lamp-off'] === true), json: made };
  },
};
