import type { StripPlan } from '../../analysis/plan/plan.ts';
import { draft, keepDraft, stepTimesOf, writeTimes } from '../draft.ts';
import { keepJson, keptJson } from '../kept.ts';
import { tell } from '../parts/Notice.tsx';
import { fetchPlans, keepPlanInBook, newId } from '../record/recordApi.ts';
import { words } from '../words.ts';

/** A plan that was printed on a measuring sheet, found again by the code on it. */
export interface PrintedPlan {
  readonly id: string;
  readonly dye: string;
  readonly cloth: string;
  readonly light: string;
  readonly plan: StripPlan;
}

const KEY = 'tonestep.plans';
const MOST = 40;

const isPrinted = (value: unknown): value is PrintedPlan =>
  typeof value === 'object' &&
  value !== null &&
  typeof (value as PrintedPlan).id === 'string' &&
  Array.isArray((value as PrintedPlan).plan?.steps);

/** Newest first. */
const printedPlans = (): readonly PrintedPlan[] => {
  const kept = keptJson(KEY);
  return Array.isArray(kept) ? kept.filter(isPrinted) : [];
};

const contentOf = ({ id: _, ...content }: PrintedPlan): string => JSON.stringify(content);

let lately: PrintedPlan | null = null;

/** The plan with its id: the same for as long as nothing in it changes, and when it is made once more. */
export const named = (content: Omit<PrintedPlan, 'id'>): PrintedPlan => {
  const text = JSON.stringify(content);
  if (lately && contentOf(lately) === text) return lately;
  lately = printedPlans().find((known) => contentOf(known) === text) ?? { ...content, id: newId() };
  return lately;
};

/** Keeps the plan whose sheet is being printed: in this browser, and in the book where that is open. */
export const keepPrinted = (printed: PrintedPlan): void => {
  const others = printedPlans().filter(({ id }) => id !== printed.id);
  keepJson(KEY, [printed, ...others].slice(0, MOST));
  const { id, dye, cloth, light, plan } = printed;
  keepPlanInBook({
    id,
    name: [dye, cloth].filter(Boolean).join(' · ').slice(0, 80) || words.plan.heading,
    seconds: plan.steps.map(({ seconds }) => seconds),
    plan: { ...plan, names: { dye, cloth, light } },
  }).catch(() => {
    // The browser has it; a book that is shut, or has it already, changes nothing.
  });
};

/** The times and names that a sheet's code stands for; null where neither browser nor book knows the plan. */
const findPrinted = async (
  id: string,
): Promise<(Omit<PrintedPlan, 'id' | 'plan'> & { readonly seconds: readonly number[] }) | null> => {
  const own = printedPlans().find((plan) => plan.id === id);
  if (own) return { ...own, seconds: own.plan.steps.map(({ seconds }) => seconds) };
  const kept = (await fetchPlans()).find((plan) => plan.id === id);
  if (!kept) return null;
  const names = (kept.plan.names ?? {}) as Partial<Record<'dye' | 'cloth' | 'light', string>>;
  return {
    seconds: kept.seconds,
    dye: names.dye ?? '',
    cloth: names.cloth ?? '',
    light: names.light ?? '',
  };
};

const sameTimes = (text: string, seconds: readonly number[]): boolean => {
  const typed = stepTimesOf(text);
  return (
    typed.kind === 'times' &&
    typed.seconds.length === seconds.length &&
    typed.seconds.every((time, i) => time === seconds[i])
  );
};

/**
 * Fills times and names in from the plan that a sheet in the photo names, with a way back. Times of a run are what really
 * happened, and stay.
 */
export const fillFromPlan = async (id: string): Promise<void> => {
  const found = await findPrinted(id).catch(() => null);
  if (!found) {
    tell(words.form.planUnknown);
    return;
  }
  const before = {
    times: draft.times.value,
    dye: draft.dye.value,
    cloth: draft.cloth.value,
    light: draft.light.value,
    fromRun: draft.fromRun.value,
  };
  const seconds = [...found.seconds].sort((a, b) => a - b);
  if (!before.fromRun && !sameTimes(before.times, seconds)) writeTimes(seconds);
  for (const name of ['dye', 'cloth', 'light'] as const)
    if (found[name] !== '') draft[name].value = found[name];
  keepDraft();
  tell(before.fromRun ? words.form.planNames : words.form.planFilled, () => {
    draft.times.value = before.times;
    draft.fromRun.value = before.fromRun;
    for (const name of ['dye', 'cloth', 'light'] as const) draft[name].value = before[name];
    keepDraft();
  });
};
