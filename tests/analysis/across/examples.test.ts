import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { INDIGO, knownCurve } from './knownCurve.ts';

const modules = import.meta.glob<Record<string, unknown>>('../../../analysis/{plan,across}/*.ts');

const curve = knownCurve(INDIGO);
/** What examples may name: the indigo of these tests, half depth (L* 59) at 120 s, without a doubt about its curve. */
const given = { curve, set: { seed: 1, shapes: [curve.shape] } };

const examples = ['plan', 'across'].flatMap((room) => {
  const folder = new URL(`../../../analysis/${room}/`, import.meta.url);
  return readdirSync(folder).flatMap((file) =>
    [...readFileSync(new URL(file, folder), 'utf8').matchAll(/@example (.+?) \/\/ (.+)$/gm)].map(
      ([, call, result]) => ({ path: `${room}/${file}`, call, result }),
    ),
  );
});

function evaluate(code: string, names: Record<string, unknown>): unknown {
  return new Function(...Object.keys(names), `return (${code});`)(...Object.values(names));
}

/** Numbers as near as the docstring prints them; all else exactly. */
function expectPrinted(received: unknown, printed: unknown, decimals: number): void {
  if (typeof printed === 'number') expect(received).toBeCloseTo(printed, decimals);
  else if (typeof printed === 'object' && printed !== null) {
    expect(Object.keys(received as object)).toEqual(Object.keys(printed));
    for (const [key, value] of Object.entries(printed)) {
      expectPrinted((received as Record<string, unknown>)[key], value, decimals);
    }
  } else expect(received).toBe(printed);
}

test('docstrings of planning and comparing hold more than 25 examples', () => {
  expect(examples.length).toBeGreaterThan(25);
});

test.each(examples)('$path: $call is $result', async ({ path, call, result }) => {
  const module = await modules[`../../../analysis/${path}`]();
  const decimals = Math.max(0, ...[...result.matchAll(/\.(\d+)/g)].map(([, digits]) => digits.length));
  expectPrinted(evaluate(call, { ...module, ...given }), evaluate(result, {}), decimals);
});

test('every source that a docstring of planning and comparing cites has a row in docs/sources.md', () => {
  const listed = readFileSync(new URL('../../../docs/sources.md', import.meta.url), 'utf8');
  const cited = ['plan', 'across'].flatMap((room) => {
    const folder = new URL(`../../../analysis/${room}/`, import.meta.url);
    return readdirSync(folder).flatMap((file) =>
      [...readFileSync(new URL(file, folder), 'utf8').matchAll(/@see .+$/gm)].flatMap(([line]) =>
        [...line.matchAll(/\[([^\]]+)\]/g)].map(([, key]) => key),
      ),
    );
  });
  expect(cited.length).toBeGreaterThan(20);
  expect([...new Set(cited)].filter((key) => !listed.includes(`| ${key} |`))).toEqual([]);
});
