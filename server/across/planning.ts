import { planFromCurve } from '../../analysis/advice/planFromCurve.ts';
import type { Layout } from '../../analysis/plan/covers.ts';
import { planStrip, type StripPlan } from '../../analysis/plan/plan.ts';
import { CommandError } from '../commands/command.ts';
import { curveOf, type StoredReading } from '../commands/storedReading.ts';
import type { LayoutName, PlanQuestion } from '../contracts/plan.ts';

const LAYOUTS: Readonly<Record<LayoutName, Layout>> = {
  covering: { kind: 'strip', direction: 'covering' },
  uncovering: { kind: 'strip', direction: 'uncovering' },
  'scraps-together': { kind: 'scraps', exposed: 'together' },
  'scraps-in-turn': { kind: 'scraps', exposed: 'in-turn' },
};

/**
 * The strip to make, from what the page or the command line was told.
 *
 * @param stored the reading that the question names; null where it names none.
 * @throws AnalysisError; CommandError `file-invalid` where the reading has no curve, `usage` where it is missing.
 */
export const planFor = (question: Omit<PlanQuestion, 'curve'>, stored: StoredReading | null): StripPlan => {
  const { start, layout, ...rest } = question;
  const request = { ...rest, layout: LAYOUTS[layout] };
  if (start.kind !== 'curve')
    return planStrip({ ...request, start, ...(stored && { dye: curveOf(stored) }) });
  if (!stored) throw new CommandError('usage', 'A start from a curve needs a reading: send it as "curve"');
  const { kind, target = stored.reading.advice.target, ...spacing } = start;
  return planFromCurve({ ...request, ...spacing, target, curve: curveOf(stored) });
};
