import { planFromCurve } from '../../analysis/advice/planFromCurve.ts';
import { AnalysisError } from '../../analysis/errors.ts';
import type { Phrase } from '../../analysis/phrases.ts';
import type { Layout } from '../../analysis/plan/covers.ts';
import { type PlanRequest, planStrip, type StripPlan } from '../../analysis/plan/plan.ts';
import type { PlanStart } from '../../analysis/plan/start.ts';
import { parseStops } from '../../analysis/plan/time.ts';
import type { Curve } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { prepare } from '../advisor.ts';
import { draft } from '../draft.ts';
import { decimalSign } from '../numbers.ts';
import { shown } from '../session.ts';
import { timerStepSeconds } from '../settings.ts';
import { shelf } from '../shelf/shelf.ts';
import { parseOneTime, parseTimes } from '../times.ts';
import { type LayoutName, planDraft } from './planDraft.ts';

/** A strip laid out, or what still stands against it. */
export type Planned =
  | { readonly kind: 'plan'; readonly plan: StripPlan }
  | { readonly kind: 'no-time'; readonly text: string }
  | { readonly kind: 'no-stops'; readonly text: string }
  | { readonly kind: 'no-reading' }
  /** Something is still to be filled in. */
  | { readonly kind: 'open' }
  /** The planner's own sentence, and what other languages make of it. */
  | { readonly kind: 'refused'; readonly message: string; readonly phrase: Phrase | null };

class Missing extends Error {
  readonly planned: Planned;
  constructor(planned: Planned) {
    super(planned.kind);
    this.planned = planned;
  }
}

const LAYOUT: Readonly<Record<LayoutName, Layout>> = {
  covering: { kind: 'strip', direction: 'covering' },
  uncovering: { kind: 'strip', direction: 'uncovering' },
  together: { kind: 'scraps', exposed: 'together' },
  'in-turn': { kind: 'scraps', exposed: 'in-turn' },
};

/** A reading that a plan can go by. */
export interface KnownCurve {
  readonly key: string;
  readonly name: string;
  readonly curve: Curve;
}

/** The curves that this browser knows: one's own, and the strip on show. */
export const knownCurves = (): readonly KnownCurve[] => {
  const strips = [
    ...(shown.value ? [shown.value] : []),
    ...shelf.value.filter(({ key }) => key !== shown.value?.key),
  ];
  return strips.flatMap(({ key, reading, strip }) =>
    reading.curve.kind === 'fitted'
      ? [{ key, name: [strip.dye, strip.cloth].filter(Boolean).join(' · '), curve: reading.curve.curve }]
      : [],
  );
};

const oneTime = (text: string): number => {
  if (text.trim() === '') throw new Missing({ kind: 'open' });
  const seconds = parseOneTime(text);
  if (seconds === null) throw new Missing({ kind: 'no-time', text: text.trim() });
  return seconds;
};

/** Spacing and count where they were given. */
const evenly = (): { stopsPerStep?: number; count?: number } => {
  const { apart, count } = planDraft;
  const asked: { stopsPerStep?: number; count?: number } = {};
  if (apart.value.trim() !== '') {
    try {
      asked.stopsPerStep = parseStops(apart.value.replace(/\s*blenden?$/i, ''));
    } catch {
      throw new Missing({ kind: 'no-stops', text: apart.value.trim() });
    }
  }
  if (count.value !== '') asked.count = Number(count.value);
  return asked;
};

const startOf = (): PlanStart => {
  switch (planDraft.start.value) {
    case 'maker': {
      const { makerTime, madeFor, madeForSky, sky, light } = planDraft;
      const underSun = light.value === 'sun' && madeFor.value === 'sun';
      return {
        kind: 'maker',
        seconds: oneTime(makerTime.value),
        madeFor: madeFor.value,
        ...(underSun && { madeForSky: madeForSky.value, sky: sky.value }),
        ...evenly(),
      };
    }
    case 'around':
      return { kind: 'around', guessSeconds: oneTime(planDraft.guess.value), ...evenly() };
    case 'times': {
      const text = planDraft.times.value;
      if (text.trim() === '') throw new Missing({ kind: 'open' });
      const parsed = parseTimes(text, decimalSign() === ',');
      if (!parsed.ok) throw new Missing({ kind: 'no-time', text: parsed.notATime });
      return { kind: 'times', seconds: parsed.seconds };
    }
    default: {
      const { stopsPerStep, count = 7 } = evenly();
      const firstSeconds = oneTime(planDraft.first.value);
      return stopsPerStep === undefined
        ? { kind: 'nothing', firstSeconds, count }
        : { kind: 'equal-stop', firstSeconds, stopsPerStep, count };
    }
  }
};

const targetOf = (): Target => {
  const { value } = planDraft.depth;
  return value === 'full' ? { kind: 'full' } : { kind: 'depth', percent: Number(value) };
};

/** The curve that is planned from: the one chosen, else the first known. */
export const chosenCurve = (): KnownCurve | null => {
  const known = knownCurves();
  return known.find(({ key }) => key === planDraft.reading.value) ?? known[0] ?? null;
};

/** Lays out the strip that the draft describes. */
export const planDrafted = (): Planned => {
  const timerStep = timerStepSeconds();
  const layout = LAYOUT[planDraft.layout.value];
  const common: Omit<PlanRequest, 'start' | 'dye'> = {
    light: planDraft.light.value,
    layout,
    lampDuringMoves: planDraft.lampOff.value && layout.kind === 'strip' ? 'off' : 'on',
    base: planDraft.base.value,
    name: draft.dye.value.trim(),
    ...(timerStep !== null && { timerStepSeconds: timerStep }),
  };
  try {
    if (planDraft.start.value !== 'curve')
      return { kind: 'plan', plan: planStrip({ ...common, start: startOf() }) };
    const known = chosenCurve();
    if (!known) return { kind: 'no-reading' };
    const set = prepare({ kind: 'fitted', curve: known.curve });
    return {
      kind: 'plan',
      plan: planFromCurve({
        ...common,
        ...evenly(),
        curve: known.curve,
        target: targetOf(),
        ...(set && { set }),
      }),
    };
  } catch (error) {
    if (error instanceof Missing) return error.planned;
    if (error instanceof AnalysisError)
      return { kind: 'refused', message: error.message, phrase: error.phrase };
    throw error;
  }
};
