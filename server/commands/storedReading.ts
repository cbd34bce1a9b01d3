import { basename } from 'node:path';
import { z } from 'zod';
import type { RecordedCurve } from '../../analysis/across/recorded.ts';
import { bootstrapCurve } from '../../analysis/curve/bootstrap.ts';
import type { Curve } from '../../analysis/curve/curve.ts';
import { firstIssue } from '../../analysis/firstIssue.ts';
import { reading } from '../contracts/reading.ts';
import { CommandError } from './command.ts';
import { readJson } from './files.ts';

const { strip, curve, advice, methodVersion } = reading.unwrap().shape;

/** What the commands take from a reading; the rest may be of any version. */
const kept = z.object({
  strip,
  curve,
  methodVersion,
  steps: z.array(z.object({ seconds: z.number().min(0), L: z.number(), uL: z.number().positive() })),
  advice: advice.unwrap().pick({ target: true }),
});

/** A reading kept in a file: what `tonestep read … --json` printed. */
export interface StoredReading {
  /** The path as it was typed. */
  readonly path: string;
  /** The file's name without folder and ending. */
  readonly name: string;
  readonly reading: z.infer<typeof kept>;
}

const object = z.record(z.string(), z.unknown());
/** Numbers that a cloth, a clock or a fit to them can have; a damaged file must not keep the fitter busy. */
const lightness = z.number().min(-100).max(200);
const exposure = z.number().min(1e-3).max(1e7);
const fitted = z.number().min(1e-9).max(1e12);
const steepness = z.number().min(1e-3).max(1e3);

const shape = z.discriminatedUnion('model', [
  z.object({
    model: z.literal('build-up'),
    ksBase: z.number().min(0).max(1e6),
    k: z.number().min(0).max(1e9),
    tauSeconds: fitted,
    p: steepness,
    delaySeconds: fitted.optional(),
  }),
  z.object({
    model: z.literal('logistic'),
    over: z.enum(['L*', 'K/S']),
    baseL: lightness,
    deepestL: lightness,
    halfSeconds: fitted,
    n: steepness,
  }),
  z
    .object({
      model: z.literal('monotone'),
      unitSeconds: fitted,
      x: z.array(z.number()).min(2),
      L: z.array(lightness),
      slopes: z.array(z.number()),
    })
    .refine(({ x, L, slopes }) => L.length === x.length && slopes.length === x.length, 'knots do not match'),
]);

const physical = z.object({
  points: z
    .array(z.object({ seconds: exposure.or(z.literal(0)), L: lightness, uL: z.number().max(100) }))
    .min(2)
    .max(1000),
  covarianceL: z.array(z.array(z.number().min(-1e4).max(1e4))),
  timer: z.object({ seconds: z.number().min(0).max(600), share: z.number().min(0).max(1) }),
  shape,
  shapeWeight: z.number().min(0).max(1),
  alternatives: z.array(z.object({ shape, weight: z.number().min(0).max(1) })).max(20),
  extraScatterL: z.number().min(0).max(100),
  baseL: lightness,
  deepestL: lightness,
  shortestSeconds: exposure,
  longestSeconds: exposure,
});

const refuse = (path: string, why: string): CommandError =>
  new CommandError(
    'file-invalid',
    `${path} is not a reading: ${why}. Give what "tonestep read … --json" printed.`,
  );

/** The form of `read --json` has the curve laid open; the contract has it as an outcome. */
export const asContract = (json: Record<string, unknown>): unknown => {
  const curve = object.safeParse(json.curve);
  if (!curve.success || 'curve' in curve.data) return json;
  return curve.data.model === null
    ? { ...json, curve: { points: [], ...curve.data } }
    : { ...json, curve: { kind: 'fitted', curve: curve.data } };
};

/** What the contract leaves open: whether the curve's numbers can be, and belong together. */
const whyTorn = (curve: Curve): string | null => {
  const checked = physical.safeParse(curve);
  if (!checked.success) return `curve.${firstIssue(checked.error)}`;
  const { points, covarianceL, used } = curve;
  if (covarianceL.length !== points.length || covarianceL.some((row) => row.length !== points.length))
    return 'the covariance does not go with the points of its curve';
  if (used.length < 2 || new Set(used).size < used.length || used.some((i) => !(i >= 0 && i < points.length)))
    return 'the points used do not go with the points of its curve';
  return null;
};

/**
 * Takes a stored reading from the parsed JSON of its file.
 *
 * @throws CommandError `file-invalid` where it is no reading; says what is wrong.
 */
export const parseStoredReading = (path: string, given: unknown): StoredReading => {
  const json = object.safeParse(given);
  if (!json.success) throw refuse(path, 'it holds no object');
  if ('error' in json.data) throw refuse(path, 'it holds a refusal, the photo was not read');
  const parsed = kept.safeParse(asContract(json.data));
  if (!parsed.success) throw refuse(path, firstIssue(parsed.error));
  const torn = parsed.data.curve.kind === 'fitted' ? whyTorn(parsed.data.curve.curve) : null;
  if (torn !== null) throw refuse(path, torn);
  return { path, name: basename(path).replace(/\.[^.]*$/, ''), reading: parsed.data };
};

/** @throws CommandError `file-unreadable`, `file-invalid`. */
export const readStoredReading = async (path: string): Promise<StoredReading> =>
  parseStoredReading(path, await readJson(path, 'file-invalid'));

/** @throws CommandError `file-invalid` where the strip gave no curve. */
export const curveOf = ({ path, reading: { curve } }: StoredReading): Curve => {
  if (curve.kind === 'fitted') return curve.curve;
  throw new CommandError('file-invalid', `${path} has no curve to go by: ${curve.message}`);
};

/**
 * The stored curve with the other curves that its strip could have shown, drawn again from the stored errors.
 *
 * @param seed same seed, same curves.
 * @throws CommandError `file-invalid` where there is no curve or its numbers are none that a strip gives.
 */
export const recordedCurveOf = (stored: StoredReading, seed: number): RecordedCurve => {
  const curve = curveOf(stored);
  try {
    return { curve, set: bootstrapCurve(curve, { seed }) };
  } catch {
    throw refuse(stored.path, 'its curve can not be drawn again');
  }
};
