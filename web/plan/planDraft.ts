import { type Signal, signal } from '@preact/signals';
import type { Sky } from '../../analysis/plan/sky.ts';
import type { LightKind } from '../../analysis/plan/start.ts';
import { keepJson, keptJson } from '../kept.ts';

export const STARTS = ['nothing', 'maker', 'around', 'curve', 'times'] as const;
export type Start = (typeof STARTS)[number];

export const LIGHT_KINDS = ['tubes', 'led', 'sun', 'other'] as const satisfies readonly LightKind[];
export const SKY_KINDS = ['clear', 'scattered', 'broken', 'overcast'] as const satisfies readonly Sky[];

export const LAYOUTS = ['covering', 'uncovering', 'together', 'in-turn'] as const;
export type LayoutName = (typeof LAYOUTS)[number];

export const DEPTHS = ['full', '90', '75', '50'] as const;
export type Depth = (typeof DEPTHS)[number];

/** What has been entered for the next strip, as typed. */
export const planDraft = {
  start: signal<Start>('nothing'),
  first: signal('0:30'),
  makerTime: signal(''),
  madeFor: signal<LightKind>('tubes'),
  madeForSky: signal<Sky>('clear'),
  sky: signal<Sky>('clear'),
  guess: signal(''),
  apart: signal(''),
  count: signal(''),
  times: signal(''),
  reading: signal(''),
  depth: signal<Depth>('full'),
  light: signal<LightKind>('tubes'),
  layout: signal<LayoutName>('covering'),
  lampOff: signal(false),
  base: signal(true),
};

const KEY = 'tonestep.plan';
const NAMES = Object.keys(planDraft) as (keyof typeof planDraft)[];

const CHOICES: Partial<Record<keyof typeof planDraft, readonly string[]>> = {
  start: STARTS,
  madeFor: LIGHT_KINDS,
  light: LIGHT_KINDS,
  madeForSky: SKY_KINDS,
  sky: SKY_KINDS,
  layout: LAYOUTS,
  depth: DEPTHS,
};

export const restorePlanDraft = (): void => {
  const kept = keptJson(KEY);
  if (typeof kept !== 'object' || kept === null) return;
  for (const name of NAMES) {
    const value = (kept as Record<string, unknown>)[name];
    const field = planDraft[name] as Signal<unknown>;
    const choices = CHOICES[name];
    if (typeof value === typeof field.peek() && (!choices || choices.includes(String(value))))
      field.value = value;
  }
};

export const keepPlanDraft = (): void => {
  keepJson(KEY, Object.fromEntries(NAMES.map((name) => [name, planDraft[name].peek()])));
};
