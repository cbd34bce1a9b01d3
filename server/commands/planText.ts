import type { StripPlan } from '../../analysis/plan/plan.ts';
import type { LightKind } from '../../analysis/plan/start.ts';
import { formatClock } from '../../analysis/plan/time.ts';
import { columns } from './columns.ts';
import { wrapped } from './wrapped.ts';

const LIGHT_WORDS: Readonly<Record<LightKind, string>> = {
  tubes: ', under ultraviolet tubes',
  led: ', under ultraviolet LEDs',
  sun: ', under the sun',
  other: '',
};

const layoutWords = ({ layout }: StripPlan): string => {
  if (layout.kind === 'strip')
    return layout.direction === 'covering'
      ? 'One strip; the cover advances from the short end'
      : 'One strip; the cover draws back from the long end';
  return layout.exposed === 'together'
    ? 'Scraps, all under the light at once, each taken out at its time'
    : 'Scraps, one after another';
};

const stepTable = ({ steps }: StripPlan): string[] =>
  columns(
    [
      ['step', 'time', 'write beside it'],
      ...steps.map(({ step, clock, label }) => [
        step === 0 ? 'base' : String(step),
        step === 0 ? '-' : clock,
        label,
      ]),
    ],
    ['right', 'right', 'left'],
  );

/** Where the lamp goes off for every move, each line says how long to burn next. */
const moveTable = ({ moves, bursts }: StripPlan, lampOff: boolean): string[] => {
  const burn = (atSeconds: number) => bursts.find((burst) => burst.startSeconds === atSeconds)?.seconds;
  const rows = moves.map(({ atSeconds, clock, text }) => {
    const seconds = burn(atSeconds);
    return [clock, ...(lampOff ? [seconds === undefined ? '' : formatClock(seconds)] : []), text];
  });
  return lampOff
    ? columns([['clock', 'burn', 'do'], ...rows], ['right', 'right', 'left'])
    : columns([['clock', 'do'], ...rows], ['right', 'left']);
};

/** A plan that a person can run the strip by: what to write, when to move, what to mind. */
export const planText = (plan: StripPlan, light: LightKind, lampOff: boolean): string => {
  const listed = (title: string, sentences: readonly string[]) =>
    sentences.length === 0
      ? []
      : ['', `${title}:`, ...sentences.map((sentence) => wrapped(sentence, '- ', '  '))];
  const lines = [
    wrapped(plan.reason),
    wrapped(`${layoutWords(plan)}${LIGHT_WORDS[light]}.`),
    '',
    ...stepTable(plan),
    '',
    ...moveTable(plan, lampOff),
    '',
    `Lamp time: ${formatClock(plan.lampSeconds)}`,
    ...(plan.places ? [`Places on the bed, in a row: ${plan.places.join(' ')}`] : []),
    ...listed(
      'Warnings',
      plan.warnings.map((warning) => warning.message),
    ),
    ...listed(
      'Good to know',
      plan.notes.map((note) => note.text),
    ),
    ...listed(
      'Take care',
      plan.cautions.map((caution) => caution.text),
    ),
  ];
  return `${lines.join('\n')}\n`;
};
