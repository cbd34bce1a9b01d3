import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { whiteD65 } from '../../analysis/colour/white.ts';
import { INDIGO, knownCurve } from '../analysis/across/knownCurve.ts';

const root = resolve(import.meta.dirname, '../../analysis');
const modules = import.meta.glob<Record<string, unknown>>('../../analysis/**/*.ts');
const files = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((name) => name.endsWith('.ts'))
  .map((name) => ({ name: name.replaceAll('\\', '/'), text: readFileSync(join(root, name), 'utf8') }));

const curve = knownCurve(INDIGO);
/** What examples may name: the indigo of these tests, half depth (L* 59) at 120 s, without a doubt about its curve; a mark; D65. */
const given = {
  curve,
  set: { seed: 1, shapes: [curve.shape] },
  quad: [
    [0, 0],
    [9, 0],
    [9, 9],
    [0, 9],
  ],
  whiteD65,
};

const written = files.flatMap(({ name, text }) =>
  [...text.matchAll(/@example (.+)$/gm)].map(([, line]) => ({ path: name, line })),
);
const examples = written.flatMap(({ path, line }) => {
  const [, call, result] = /^(.+?) \/\/ (.+?)(?: \*\/)?$/.exec(line) ?? [];
  return call === undefined ? [] : [{ path, call, result }];
});

const evaluate = (code: string, names: Record<string, unknown>): unknown =>
  new Function(...Object.keys(names), `return (${code});`)(...Object.values(names));

/** Numbers as near as the docstring prints them; all else exactly. */
const expectPrinted = (received: unknown, printed: unknown, decimals: number): void => {
  if (typeof printed === 'number') expect(received).toBeCloseTo(printed, decimals);
  else if (typeof printed === 'object' && printed !== null) {
    expect(Object.keys(received as object)).toEqual(Object.keys(printed));
    for (const [key, value] of Object.entries(printed))
      expectPrinted((received as Record<string, unknown>)[key], value, decimals);
  } else expect(received).toBe(printed);
};

describe('examples in docstrings of the analysis', () => {
  it('are more than 40, and each is a call with what it gives behind two strokes', () => {
    expect(examples.length).toBeGreaterThan(40);
    expect(written.length).toBe(examples.length);
  });

  it.each(examples)('$path: $call is $result', async ({ path, call, result }) => {
    const module = await modules[`../../analysis/${path}`]();
    const decimals = Math.max(0, ...[...result.matchAll(/\.(\d+)/g)].map(([, digits]) => digits.length));
    expectPrinted(evaluate(call, { ...module, ...given }), evaluate(result, {}), decimals);
  });
});

/** Exported functions with the comment that ends right before each, and their text up to the next declaration. */
const functions = files.flatMap(({ name, text }) =>
  [
    ...text.matchAll(
      /^export (?:async )?(?:function (?<fn>\w+)|const (?<value>\w+) = (?:async )?(?:<[^=\n]*>)?(?:\(|[a-z]\w* =>))/gm,
    ),
  ].map((found) => {
    const before = text.slice(0, found.index).trimEnd();
    const next = text.slice(found.index + 1).search(/^(?:export |const |function |async function |\/\*\*)/m);
    return {
      what: `${name}: ${found.groups?.fn ?? found.groups?.value}`,
      docstring: /\/\*\*(?:(?!\*\/)[\s\S])*\*\/$/.exec(before)?.[0] ?? null,
      body: text.slice(found.index, next < 0 ? undefined : found.index + 1 + next),
    };
  }),
);

describe('public functions of the analysis', () => {
  it('are more than 300', () => {
    expect(functions.length).toBeGreaterThan(300);
  });

  it('have a docstring each', () => {
    const bare = functions.filter(({ docstring }) => docstring === null);
    expect(bare.map(({ what }) => what)).toEqual([]);
  });

  it('name the code of every refusal that they make themselves', () => {
    const made = functions.map(({ what, docstring, body }) => ({
      what,
      docstring,
      codes: [...body.matchAll(/new AnalysisError\(\s*'([a-z-]+)'/g)].map(([, code]) => code),
    }));
    expect(made.filter(({ codes }) => codes.length > 0).length).toBeGreaterThan(25);
    const silent = made.flatMap(({ what, docstring, codes }) =>
      codes.filter((code) => !docstring?.includes(`\`${code}\``)).map((code) => `${what} throws ${code}`),
    );
    expect(silent).toEqual([]);
  });
});
