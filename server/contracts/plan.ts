import { z } from 'zod';
import { keptReading, seed, warning } from './figure.ts';
import { target } from './target.ts';

export const lightKind = z.enum(['tubes', 'led', 'sun', 'other']);
export const sky = z.enum(['clear', 'scattered', 'broken', 'overcast']);
/** How the steps lie and get their light. */
export const layoutName = z.enum(['covering', 'uncovering', 'scraps-together', 'scraps-in-turn']);
export type LayoutName = z.infer<typeof layoutName>;

const seconds = z.number().positive().max(86_400);
const stopsPerStep = z.number().min(0.05).max(4);
const count = z.number().int().min(1).max(24);

/** What is known before the strip. `curve` goes by the reading that is sent along. */
const start = z.discriminatedUnion('kind', [
  z
    .object({
      kind: z.literal('nothing'),
      firstSeconds: seconds.exactOptional(),
      count: count.exactOptional(),
    })
    .readonly(),
  z.object({ kind: z.literal('equal-stop'), firstSeconds: seconds, stopsPerStep, count }).readonly(),
  z.object({ kind: z.literal('equal-time'), firstSeconds: seconds, addedSeconds: seconds, count }).readonly(),
  z.object({ kind: z.literal('times'), seconds: z.array(z.number().min(0).max(86_400)).max(25) }).readonly(),
  z
    .object({
      kind: z.literal('around'),
      guessSeconds: seconds,
      stopsPerStep: stopsPerStep.exactOptional(),
      count: count.exactOptional(),
    })
    .readonly(),
  z
    .object({
      kind: z.literal('maker'),
      seconds,
      madeFor: lightKind,
      madeForSky: sky.exactOptional(),
      sky: sky.exactOptional(),
      stopsPerStep: stopsPerStep.exactOptional(),
      count: count.exactOptional(),
    })
    .readonly(),
  z
    .object({
      kind: z.literal('curve'),
      target: target.exactOptional(),
      shiftStops: z.number().min(-10).max(10).exactOptional(),
      stopsPerStep: stopsPerStep.exactOptional(),
      count: count.exactOptional(),
      seed: seed.exactOptional(),
    })
    .readonly(),
]);

/** Body of POST /api/plans: what `tonestep plan` takes. */
export const planQuestion = z
  .strictObject({
    start: start.default({ kind: 'nothing' }),
    /** A reading of this dye on this cloth: what a start from a curve goes by; beside other starts it checks the spacing. */
    curve: keptReading.exactOptional(),
    light: lightKind.default('other'),
    layout: layoutName.default('covering'),
    lampDuringMoves: z.enum(['on', 'off']).default('on'),
    base: z.boolean().default(true),
    timerStepSeconds: z.number().min(0.01).max(600).exactOptional(),
    name: z.string().max(200).exactOptional(),
  })
  .readonly();
export type PlanQuestion = z.infer<typeof planQuestion>;

const layout = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('strip'), direction: z.enum(['covering', 'uncovering']) }).readonly(),
  z.object({ kind: z.literal('scraps'), exposed: z.enum(['together', 'in-turn']) }).readonly(),
]);

/** A strip to make: times, moves of the cover, labels, what to mind. */
export const stripPlan = z
  .object({
    steps: z
      .array(
        z
          .object({
            step: z.number().int(),
            seconds: z.number(),
            wantedSeconds: z.number(),
            stopsAboveShortest: z.number().nullable(),
            clock: z.string(),
            label: z.string(),
          })
          .readonly(),
      )
      .readonly(),
    layout,
    moves: z
      .array(
        z
          .object({
            atSeconds: z.number(),
            clock: z.string(),
            action: z.enum(['lamp-on', 'cover', 'uncover', 'take-out', 'change-scrap', 'lamp-off']),
            step: z.number().int().nullable(),
            text: z.string(),
          })
          .readonly(),
      )
      .readonly(),
    bursts: z
      .array(
        z
          .object({
            startSeconds: z.number(),
            seconds: z.number(),
            litSteps: z.array(z.number().int()).readonly(),
          })
          .readonly(),
      )
      .readonly(),
    lampSeconds: z.number(),
    places: z.array(z.number().int()).readonly().nullable(),
    reason: z.string(),
    warnings: z.array(warning).readonly(),
    notes: z
      .array(z.object({ code: z.string(), text: z.string(), source: z.string() }).readonly())
      .readonly(),
    cautions: z.array(z.object({ key: z.string(), text: z.string() }).readonly()).readonly(),
  })
  .readonly();

/** Answer to POST /api/plans. */
export const planAnswer = z.object({ plan: stripPlan }).readonly();
export type PlanAnswer = z.infer<typeof planAnswer>;
