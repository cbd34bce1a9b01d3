import type { z } from 'zod';
import { firstIssue, issueOf } from '../../analysis/firstIssue.ts';
import { phrase } from '../../analysis/phrases.ts';
import { notedReading, notedRecords } from '../commands/controlRecords.ts';
import { parseStoredReading } from '../commands/storedReading.ts';
import { type ComparisonAnswer, comparisonQuestion } from '../contracts/comparison.ts';
import { type DriftAnswer, driftQuestion } from '../contracts/drift.ts';
import { bedQuestion, type EvennessAnswer, evennessQuestion } from '../contracts/evenness.ts';
import { type PlanAnswer, planQuestion } from '../contracts/plan.ts';
import { type TransferAnswer, transferQuestion } from '../contracts/transfer.ts';
import { Refusal } from '../refusal.ts';
import { comparisonOf } from './comparing.ts';
import { driftOf } from './drifting.ts';
import { evennessFromPhotos, evennessOf } from './evening.ts';
import { planFor } from './planning.ts';
import { transferOf } from './transferring.ts';

/** What can be asked beside the reading of a strip, and what is answered. */
export interface Answers {
  readonly plan: PlanAnswer;
  readonly comparison: ComparisonAnswer;
  readonly transfer: TransferAnswer;
  readonly drift: DriftAnswer;
  readonly evenness: EvennessAnswer;
}
export type QuestionName = keyof Answers;

/** A question in the form that its contract asks for. @throws Refusal `request-invalid`, with the place of what is wrong. */
const asked = <T extends z.ZodType>(contract: T, json: unknown): z.infer<T> => {
  const parsed = contract.safeParse(json);
  if (parsed.success) return parsed.data;
  throw new Refusal('request-invalid', `The request can't be used: ${firstIssue(parsed.error)}.`, {
    phrase: phrase('request-unfit', { issue: issueOf(parsed.error) }),
  });
};

const kept = (field: string, json: unknown) => parseStoredReading(`"${field}"`, json);
const keptEach = (field: string, list: readonly unknown[]) =>
  list.map((json, i) => kept(`${field}[${i}]`, json));

const plan = (json: unknown): PlanAnswer => {
  const { curve, ...question } = asked(planQuestion, json);
  return { plan: planFor(question, curve === undefined ? null : kept('curve', curve)) };
};

const comparison = (json: unknown): ComparisonAnswer => {
  const { readings, ...question } = asked(comparisonQuestion, json);
  return { comparison: comparisonOf(question, keptEach('readings', readings)) };
};

const transfer = (json: unknown): TransferAnswer => {
  const { curve, controls, ...question } = asked(transferQuestion, json);
  return { transfer: transferOf(question, kept('curve', curve), keptEach('controls', controls)) };
};

const drift = (json: unknown): DriftAnswer => {
  const { records, controls = [], curve } = asked(driftQuestion, json);
  const readings = keptEach('controls', controls);
  const noted = records ? notedRecords(records) : readings.map(notedReading);
  return { drift: driftOf(noted, readings, curve === undefined ? null : kept('curve', curve)) };
};

const evenness = async (json: unknown, photos: readonly Uint8Array[]): Promise<EvennessAnswer> => {
  const [photo, also] = photos;
  if (photo === undefined) {
    const { curve, ...question } = asked(evennessQuestion, json);
    return { evenness: evennessOf(question, kept('curve', curve)), sheet: null };
  }
  const { curve, marks, alsoMarks, ...question } = asked(bedQuestion, json);
  if (also !== undefined && alsoMarks === undefined)
    throw new Refusal('request-invalid', 'The second photo needs marks of its own: send "alsoMarks".');
  return evennessFromPhotos(
    question,
    [{ bytes: photo, marks }, ...(also === undefined ? [] : [{ bytes: also, marks: alsoMarks }])],
    kept('curve', curve),
  );
};

const ANSWER: {
  readonly [N in QuestionName]: (
    json: unknown,
    photos: readonly Uint8Array[],
  ) => Answers[N] | Promise<Answers[N]>;
} = {
  plan,
  comparison,
  transfer,
  drift,
  evenness,
};

/**
 * Answers a question sent as JSON.
 *
 * @param photos sent along, as many as the question takes.
 * @throws AnalysisError; Refusal `request-invalid`; CommandError where a reading sent along can't be used.
 */
export const answerTo = async <N extends QuestionName>(
  name: N,
  json: unknown,
  photos: readonly Uint8Array[] = [],
): Promise<Answers[N]> => ANSWER[name](json, photos);
