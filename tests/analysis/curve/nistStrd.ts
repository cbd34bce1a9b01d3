import { readFileSync } from 'node:fs';

/** One set as its file states it. Source: tests/reference/nist_strd/SOURCE.md. */
export interface StrdSet {
  readonly starts: readonly [number[], number[]];
  readonly certified: number[];
  readonly certifiedSd: number[];
  readonly rss: number;
  readonly residualSd: number;
  readonly x: number[];
  readonly y: number[];
}

export function strdLines(name: string): string[] {
  const file = new URL(`../../reference/nist_strd/${name}.dat`, import.meta.url);
  return readFileSync(file, 'utf8').split(/\r?\n/);
}

/** Reads a nonlinear set: parameter lines "b1 = start start value sd", data from line 61 as y, x. */
export function readStrd(name: string): StrdSet {
  const lines = strdLines(name);
  const rows = lines.flatMap((line) => {
    const found = /^\s*b\d\s*=\s*(.+)$/.exec(line);
    return found ? [found[1].trim().split(/\s+/).map(Number)] : [];
  });
  const stated = (label: string) => Number(lines.find((line) => line.startsWith(label))!.split(':')[1]);
  const data = lines.slice(60).flatMap((line) => (line.trim() ? [line.trim().split(/\s+/).map(Number)] : []));
  return {
    starts: [rows.map((row) => row[0]), rows.map((row) => row[1])],
    certified: rows.map((row) => row[2]),
    certifiedSd: rows.map((row) => row[3]),
    rss: stated('Residual Sum of Squares'),
    residualSd: stated('Residual Standard Deviation'),
    x: data.map((row) => row[1]),
    y: data.map((row) => row[0]),
  };
}

const { exp } = Math;
const misra1a = (x: number, [b1, b2]: readonly number[]) => b1 * (1 - exp(-b2 * x));
const chwirut = (x: number, [b1, b2, b3]: readonly number[]) => exp(-b1 * x) / (b2 + b3 * x);
const cubicRatio = (x: number, [b1, b2, b3, b4, b5, b6, b7]: readonly number[]) =>
  (b1 + x * (b2 + x * (b3 + x * b4))) / (1 + x * (b5 + x * (b6 + x * b7)));

/** The models as printed in the files' headers. */
export const strdModels: Record<string, (x: number, b: readonly number[]) => number> = {
  BoxBOD: misra1a,
  Chwirut1: chwirut,
  Chwirut2: chwirut,
  DanWood: (x, [b1, b2]) => b1 * x ** b2,
  Eckerle4: (x, [b1, b2, b3]) => (b1 / b2) * exp(-0.5 * ((x - b3) / b2) ** 2),
  Hahn1: cubicRatio,
  Kirby2: (x, [b1, b2, b3, b4, b5]) => (b1 + x * (b2 + x * b3)) / (1 + x * (b4 + x * b5)),
  MGH09: (x, [b1, b2, b3, b4]) => (b1 * (x * x + x * b2)) / (x * x + x * b3 + b4),
  MGH17: (x, [b1, b2, b3, b4, b5]) => b1 + b2 * exp(-x * b4) + b3 * exp(-x * b5),
  Misra1a: misra1a,
  Misra1b: (x, [b1, b2]) => b1 * (1 - (1 + (b2 * x) / 2) ** -2),
  Misra1c: (x, [b1, b2]) => b1 * (1 - (1 + 2 * b2 * x) ** -0.5),
  Misra1d: (x, [b1, b2]) => (b1 * b2 * x) / (1 + b2 * x),
  Rat42: (x, [b1, b2, b3]) => b1 / (1 + exp(b2 - b3 * x)),
  Rat43: (x, [b1, b2, b3, b4]) => b1 / (1 + exp(b2 - b3 * x)) ** (1 / b4),
  Thurber: cubicRatio,
};
