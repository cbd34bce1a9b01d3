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
const positive = z.number().positive();

const shape = z.discriminatedUnion('model', [
  z.object({
    model: z.literal('build-up'),
    ksBase: z.number().min(0),
    k: z.number().min(0),
    tauSeconds: positive,
    p: positive,
  }),
  z.object({
    model: z.literal('logistic'),
    over: z.enum(['L*', 'K/S']),
    baseL: z.number(),
    deepestL: z.number(),
    halfSeconds: positive,
    n: positive,
  }),
  z
    .object({
      model: z.literal('monotone'),
      unitSeconds: positive,
      x: z.array(z.number()).min(2),
      L: z.array(z.number()),
      slopes: z.array(z.number()),
    })
    .refine(({ x, L, slopes }) => L.length === x.length && slopes.length === x.length, 'knots do not match'),
]);

const refuse = (path: string, why: string): CommandError =>
  new CommandError(
    'file-invalid',
    `${path} is not a reading: ${why}. Give what "tonestep read … --json" printed.`,
  );

/** The form of `read --json` has the curve laid open; the contract has it as an outcome. */
const asContract = (json: Record<string, unknown>): unknown => {
  const curve = object.safeParse(json.curve);
  if (!curve.success || 'curve' in curve.data) return json;
  return curve.data.model === null
    ? { ...json, curve: { points: [], ...curve.data } }
    : { ...json, curve: { kind: 'fitted', curve: curve.data } };
};

/** What the contract leaves open: whether the parts of the curve belong together. */
const whyTorn = ({ points, covarianceL, used, shape: given, alternatives }: Curve): string | null => {
  if (points.length < 2) return 'its curve has fewer than two points';
  if (covarianceL.length !== points.length || covarianceL.some((row) => row.length !== points.length))
    return 'the covariance does not go with the points of its curve';
  if (used.length < 2 || new Set(used).size < used.length || used.some((i) => !(i >= 0 && i < points.length)))
    return 'the points used do not go with the points of its curve';
  for (const one of [given, ...alternatives.map((a) => a.shape)]) {
    const checked = shape.safeParse(one);
    if (!checked.success) return `curve.shape.${firstIssue(checked.error)}`;
  }
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
