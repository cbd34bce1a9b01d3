import { effect } from '@preact/signals';
import { draft, keepDraft } from '../draft.ts';
import { keepPlanDraft, planDraft, restorePlanDraft } from './planDraft.ts';

let begun = false;

/** Brings the plan of the last visit back and keeps every change from then on. */
export const beginToKeepPlan = (): void => {
  if (begun) return;
  begun = true;
  restorePlanDraft();
  effect(() => {
    for (const field of Object.values(planDraft)) field.value;
    keepPlanDraft();
  });
  effect(() => {
    for (const field of [draft.dye, draft.cloth, draft.light]) field.value;
    keepDraft();
  });
};
