import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const read = (path: string) => readFileSync(join(root, path), 'utf8');
const filesOf = (folder: string, ending: string) =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .map((name) => join(folder, name));

/** Rows of the glossary: the words that each explains, and what it says of them. */
const rows = [...read('docs/glossary.md').matchAll(/^\| (?!word \||--- \|)([^|]+) \| (.+) \|$/gm)].map(
  ([, words, meaning]) => ({ words: words.split(', '), meaning }),
);
const explained = rows.flatMap(({ words }) => words);

/** Pages for people, without the glossary itself and without code. */
const pages = ['README.md', ...filesOf('docs', '.md')].filter((path) => !path.endsWith('glossary.md'));
const prose = (path: string) =>
  read(path)
    .replace(/^```[\s\S]*?^```$/gm, '')
    .replace(/`[^`\n]*`|https?:\S+/g, '');
/** What code says to people: its texts, comments left out. */
const spoken = (path: string) =>
  [
    ...read(path)
      .replace(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '')
      .matchAll(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g),
  ]
    .map(([text]) => text)
    // Not names in code: two words at least.
    .filter((text) => / /.test(text))
    .join('\n');
const texts = new Map([
  ...pages.map((path) => [path, prose(path)] as const),
  ...['analysis', 'server', 'web/words']
    .flatMap((room) => filesOf(room, '.ts'))
    .filter((path) => !/german|archiveSchemas|openApiPage/i.test(path))
    .map((path) => [path, spoken(path)] as const),
]);
/** Names in code count as well, `timeFactor` as "time Factor": code takes its words from the glossary. */
const named = ['analysis', 'server']
  .flatMap((room) => filesOf(room, '.ts'))
  .map((path) => read(path).replace(/([a-z])([A-Z])/g, '$1 $2'))
  .join('\n');
const everything = `${[...texts.values()].join('\n')}\n${named}`;

const escaped = (word: string) => word.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
/** The word as it stands in a sentence: in the singular or plural, its parts joined by a blank or a hyphen. */
const standing = (word: string) =>
  new RegExp(`(?<![\\w-])${escaped(word).replace(/[ -]/g, '[ -]?')}(?:s|es)?(?![\\w-])`, 'i');

describe('the glossary', () => {
  it('explains more than 75 words, none of them twice', () => {
    expect(explained.length).toBeGreaterThan(75);
    expect(explained.filter((word, i) => explained.indexOf(word) !== i)).toEqual([]);
  });

  it('explains only words that pages, messages or code have', () => {
    expect(explained.filter((word) => !standing(word).test(everything))).toEqual([]);
  });
});

/** The values of a union of names in a type, or of an enum in a contract. */
const namesIn = (path: string, declaration: RegExp): string[] => {
  const [, body] = declaration.exec(read(path)) ?? [];
  const names = [...(body ?? '').matchAll(/'([a-z-]+)'/g)].map(([, name]) => name);
  if (names.length < 2) throw new Error(`${path} has no such list`);
  return names;
};

/** Closed lists of words that answers hold and people read. */
const CLOSED: readonly (readonly [string, readonly string[]])[] = [
  ['verdicts', namesIn('analysis/advice/advice.ts', /export type Verdict = ([^;]+);/)],
  ['curve models', namesIn('analysis/curve/curve.ts', /export type CurveModel = ([^;]+);/)],
  ['skies', namesIn('server/contracts/recordText.ts', /export const sky = ([^;]+);/)],
  ['outcomes of drift', namesIn('server/contracts/drift.ts', /verdict: z\.enum\(\[([^\]]+)\]/)],
  ['verdicts on a difference', namesIn('server/contracts/comparison.ts', /verdict: z\.enum\(\[([^\]]+)\]/)],
  [
    'purposes of what is kept',
    namesIn('server/contracts/recordReadings.ts', /export const purpose = ([^;]+);/),
  ],
];

describe('every word of a closed list that people read', () => {
  it.each(CLOSED)('is explained in the glossary: %s', (_, names) => {
    const glossary = rows.map(({ words, meaning }) => `${words.join(', ')}: ${meaning}`).join('\n');
    expect(names.filter((name) => !standing(name).test(glossary))).toEqual([]);
  });
});

/** One word per thing: what is not said in place of a word of the glossary. */
const INSTEAD: Readonly<Record<string, readonly string[]>> = {
  cloth: ['fabric', 'textile'],
  strip: ['wedge', 'step tablet'],
  scrap: ['snippet', 'offcut'],
  base: ['blank step', 'zero step'],
  stop: ['f-stop', 'EV'],
  surround: ['backdrop'],
  card: ['grey chart', 'color checker', 'colour checker', 'reference target'],
  depth: ['darkness level', 'saturation level'],
  batch: ['lot number'],
  'full depth': ['dmax', 'd-max'],
  sensitiser: ['sensitizer'],
  colour: ['color'],
  'washed-out': ['underexposed', 'under-exposed'],
  'measuring sheet': ['calibration sheet', 'template sheet'],
  'put away': ['trash', 'recycle bin'],
};

describe('one word per thing', () => {
  it.each(Object.entries(INSTEAD))('"%s", and not %j', (_, others) => {
    const found = others.flatMap((other) =>
      [...texts]
        // Titles of publications are spelt as they are.
        .filter(
          ([path, text]) =>
            path !== 'docs/sources.md' &&
            new RegExp(standing(other).source, /[A-Z]/.test(other) ? '' : 'i').test(text),
        )
        .map(([path]) => `${path}: ${other}`),
    );
    expect(found).toEqual([]);
  });
});
