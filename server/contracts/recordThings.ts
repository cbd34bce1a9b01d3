import { z } from 'zod';
import { id, lampHours, name, remark, rowFields, sky, time } from './recordText.ts';
import { stripDescription } from './strip.ts';

/** What a printer says of a dye. */
export const dyeFields = z.object({ name, remark: remark.default('') });
export const dye = z.object({ ...rowFields, ...dyeFields.shape, remark }).readonly();
export type Dye = z.infer<typeof dye>;

export const clothFields = z.object({ name, remark: remark.default('') });
export const cloth = z.object({ ...rowFields, ...clothFields.shape, remark }).readonly();
export type Cloth = z.infer<typeof cloth>;

export const lightKind = z.enum(['lamps', 'sun']);
export type LightKind = z.infer<typeof lightKind>;

const distanceCm = z.number().positive().max(100_000).nullable();
const glass = z.string().trim().max(200);

/** A lamp set at one distance under one glass, or the sun. Another distance or glass is another light. */
export const lightFields = z.object({
  name,
  kind: lightKind,
  distanceCm: distanceCm.default(null),
  /** Which glass lies on the work; empty where none. */
  glass: glass.default(''),
  /** What the hour meter showed last; null where there is none. */
  lampHours: lampHours.nullable().default(null),
  remark: remark.default(''),
});
export const light = z
  .object({
    ...rowFields,
    name,
    kind: lightKind,
    distanceCm,
    glass,
    lampHours: lampHours.nullable(),
    remark,
  })
  .readonly();
export type Light = z.infer<typeof light>;

/** One mix of sensitiser. */
export const batchFields = z.object({
  name,
  /** The dye that it is for; null where it serves several. */
  dyeId: id.nullable().default(null),
  mixedAt: time,
  remark: remark.default(''),
});
export const batch = z.object({ ...rowFields, name, dyeId: id.nullable(), mixedAt: time, remark }).readonly();
export type Batch = z.infer<typeof batch>;

/** One card that a printer owns: two of a kind are two cards, since they age apart. */
export const cardFields = z.object({
  name,
  /** As in a strip's description. */
  card: stripDescription.unwrap().shape.card,
  remark: remark.default(''),
});
export const card = z.object({ ...rowFields, ...cardFields.shape, remark }).readonly();
export type RecordCard = z.infer<typeof card>;

/** The seconds, what they were planned by, and everything that the plan says. */
export const planFields = z.object({
  name,
  dyeId: id.nullable().default(null),
  clothId: id.nullable().default(null),
  lightId: id.nullable().default(null),
  /** Step times, rising; 0 is the base. */
  seconds: z.array(z.number().min(0)).min(1).max(60).readonly(),
  /** The plan as the planner gave it. */
  plan: z.record(z.string(), z.unknown()),
  remark: remark.default(''),
});
/** A new plan may bring its id along: that of the sheet that was printed for it. */
export const newPlanFields = planFields.extend({ id: id.exactOptional() });
export const plan = z
  .object({
    ...rowFields,
    ...planFields.shape,
    dyeId: id.nullable(),
    clothId: id.nullable(),
    lightId: id.nullable(),
    remark,
  })
  .readonly();
export type RecordPlan = z.infer<typeof plan>;

/** Circumstances of one exposure that dye, cloth and light do not say. */
export const exposureFields = {
  batchId: id.nullable().default(null),
  /** Of the light, when it was exposed. */
  lampHours: lampHours.nullable().default(null),
  sky: sky.nullable().default(null),
  /** When it was exposed; the moment of keeping when left out. */
  exposedAt: time.exactOptional(),
};

export const exposure = {
  batchId: id.nullable(),
  lampHours: lampHours.nullable(),
  sky: sky.nullable(),
  exposedAt: time,
};
