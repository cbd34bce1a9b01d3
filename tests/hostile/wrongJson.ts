import fc from 'fast-check';

/** Values that no field expects, and that JSON can carry. */
export const wrongValue: fc.Arbitrary<unknown> = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    true,
    false,
    0,
    -0,
    -1,
    0.1,
    1e308,
    -1e308,
    5e-324,
    2 ** 53,
    1e21,
    '',
    ' ',
    'NaN',
    'Infinity',
    '1e999',
    '\0',
    '\uD800',
    '\u202Egpj',
    '𝔘𝔫𝔦𝔠𝔬𝔡𝔢 ✂️ نص ערך',
    '../../etc/passwd',
    '<script>x()</script>',
    '\u001B[2J',
    "'; drop table readings; --",
    'a'.repeat(20_000),
    [],
    {},
    [[]],
    [null],
    { toString: 1 },
    { constructor: { prototype: { polluted: true } } },
  ),
  fc.constant(JSON.parse('{"__proto__":{"polluted":true}}')),
  fc.constant(Array.from({ length: 20_000 }, (_, i) => i)),
  fc.constant(Array.from({ length: 500 }, () => ({ seconds: 1 }))),
  fc.integer({ min: 1, max: 900 }).map((depth) => JSON.parse(`${'['.repeat(depth)}${']'.repeat(depth)}`)),
  fc.double({ noNaN: true, noDefaultInfinity: true }),
  fc.integer({ min: -1000, max: 1000 }),
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.jsonValue({ maxDepth: 3 }),
);

type Path = readonly (string | number)[];

/** The places of all values in a JSON value, the value itself first. */
const placesIn = (value: unknown, path: Path = []): Path[] => {
  if (typeof value !== 'object' || value === null) return [path];
  return [
    path,
    ...Object.entries(value).flatMap(([key, inner]) =>
      placesIn(inner, [...path, Array.isArray(value) ? Number(key) : key]),
    ),
  ];
};

const replaced = (value: unknown, [key, ...rest]: Path, by: unknown): unknown => {
  if (key === undefined) return by;
  if (Array.isArray(value)) return value.map((inner, i) => (i === key ? replaced(inner, rest, by) : inner));
  const record = value as Record<string, unknown>;
  return { ...record, [key]: replaced(record[key], rest, by) };
};

export interface Wrong {
  /** Which place, as a share of all. */
  readonly place: number;
  readonly how: 'replace' | 'drop' | 'scale';
  readonly by: unknown;
  readonly factor: number;
}

export const wrongs: fc.Arbitrary<readonly Wrong[]> = fc.array(
  fc.record({
    place: fc.noBias(fc.nat(999_999)).map((n) => n / 1_000_000),
    how: fc.constantFrom('replace' as const, 'drop' as const, 'scale' as const),
    by: wrongValue,
    factor: fc.constantFrom(-1, 0, 1e-12, 0.5, 2, 10, 1e6, 1e300),
  }),
  { minLength: 1, maxLength: 3 },
);

const once = (json: unknown, { place, how, by, factor }: Wrong): unknown => {
  const places = placesIn(json);
  const path = places[Math.floor(place * places.length)];
  if (how === 'replace' || path.length === 0) return replaced(json, path, by);
  const inner = path.reduce<unknown>((v, key) => (v as Record<string | number, unknown>)[key], json);
  if (how === 'scale')
    return replaced(json, path, typeof inner === 'number' ? inner * factor : [inner, inner]);
  const parent = path.slice(0, -1);
  const holder = parent.reduce<unknown>((v, key) => (v as Record<string | number, unknown>)[key], json);
  const key = path.at(-1);
  const without = Array.isArray(holder)
    ? holder.filter((_, i) => i !== key)
    : Object.fromEntries(Object.entries(holder as object).filter(([name]) => name !== key));
  return replaced(json, parent, without);
};

/** Sound JSON made wrong in a few places. What JSON can't carry (NaN, endless numbers) has become null, as in a file. */
export const madeWrong = (json: unknown, how: readonly Wrong[]): unknown => {
  const value = how.reduce(once, json);
  return JSON.parse(JSON.stringify(value) ?? 'null');
};
