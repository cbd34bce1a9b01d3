import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../analysis/plan/cautions.ts';
import { errorCode } from '../../server/contracts/errors.ts';
import { loadDemoEntries } from '../../server/demos.ts';
import { demoText } from '../../web/sentences/demoText.ts';
import { CAUTION_KEYS, NOTE_CODES, WARNING_CODES } from '../../web/words/codes.ts';
import { english } from '../../web/words/english.ts';
import { german } from '../../web/words/german.ts';
import type { Words } from '../../web/words/shape.ts';
import { speak } from '../../web/words.ts';

const root = resolve(import.meta.dirname, '../..');

/** Every sentence of a language by its path; functions are called with signs that show where a gap is filled. */
const sentencesOf = (words: Words): ReadonlyMap<string, string> => {
  const found = new Map<string, string>();
  const walk = (value: unknown, path: string): void => {
    if (typeof value === 'string') found.set(path, value);
    else if (typeof value === 'function')
      found.set(path, String(value(...Array.from({ length: value.length }, (_, i) => `‹${i}›`))));
    else for (const [name, inner] of Object.entries(value as object)) walk(inner, `${path}.${name}`);
  };
  walk(words, '');
  return found;
};

const englishSentences = sentencesOf(english);
const germanSentences = sentencesOf(german);

/** Names, units and signs that are the same in both languages. */
const ALIKE = new Set(
  'Tonestep JPEG HEIC PNG WebP TIFF AVIF JSON SVG PDF L Y C E s px min sRGB Display P npm start lan Name Letter A Code TONESTEP DATA English Deutsch'.split(
    ' ',
  ),
);

describe.each([
  ['English', english],
  ['German', german],
] as const)('the words in %s', (_, words) => {
  it.each(errorCode.options)('say what happened and what to do next for %s', (code) => {
    const { what, next } = words.errors[code];
    expect(what).toMatch(/^[A-ZÄÖÜ].*\.$/s);
    expect(next).toMatch(/^[A-ZÄÖÜ].*[.]$|npm start -- --lan$/s);
    expect(next).not.toBe(what);
  });

  it('carry every caution of the planner', () => {
    expect([...CAUTION_KEYS].sort()).toEqual(CAUTIONS.map(({ key }) => key).sort());
    for (const { key } of CAUTIONS) expect(words.cautions.of[key as 'glass']).not.toBe('');
  });
});

describe('the English cautions', () => {
  it('are the planner’s own, none shortened away', () => {
    for (const { key, text } of CAUTIONS) expect(english.cautions.of[key as 'glass']).toBe(text);
  });
});

describe('the words of the demos', () => {
  const demos = loadDemoEntries(join(root, 'fixtures/demo'));

  it('are their own in English, title and story', () => {
    expect(Object.keys(english.demo).sort()).toEqual(demos.map(({ id }) => id).sort());
    for (const { id, title, story } of demos)
      expect(english.demo[id as keyof typeof english.demo]).toEqual({ title, story });
  });

  it('are found in German, and left as they are where a demo is new', async () => {
    await speak('de');
    for (const demo of demos) expect(demoText(demo)).toMatchObject({ inEnglish: false });
    expect(demoText({ ...demos[0], id: 'new' }).title).toBe(demos[0].title);
    await speak('en');
  });
});

describe('German', () => {
  it('has a sentence for each of more than 400 English ones, with the same gaps', () => {
    expect(germanSentences.size).toBeGreaterThan(400);
    expect([...germanSentences.keys()].sort()).toEqual([...englishSentences.keys()].sort());
    const gaps = (text: string | undefined): string[] =>
      [...(text?.matchAll(/‹\d›/g) ?? [])].map(String).sort();
    for (const [path, text] of englishSentences)
      expect([path, gaps(germanSentences.get(path))]).toEqual([path, gaps(text)]);
  });

  it('leaves no sentence of several words in English', () => {
    const same = [...germanSentences].filter(([path, text]) => {
      if (text !== englishSentences.get(path)) return false;
      const own = text.replace(/‹\d›/g, '').match(/\p{L}+/gu) ?? [];
      return own.some((word) => !ALIKE.has(word));
    });
    // Words that German and English share.
    expect(same.map(([path]) => path).sort()).toEqual(
      ['.form.patchName', '.plan.warm'].filter((path) => germanSentences.has(path) && !ALIKE.has('Name')),
    );
  });
});

describe('codes', () => {
  /** Codes that a room of the analysis hands out with its warnings. */
  const codesIn = (...rooms: readonly string[]): ReadonlySet<string> =>
    new Set(
      rooms
        .flatMap((room) =>
          readdirSync(join(root, 'analysis', room), { recursive: true, encoding: 'utf8' })
            .filter(
              (name) => name.endsWith('.ts') && !name.endsWith('notes.ts') && !name.endsWith('questions.ts'),
            )
            .flatMap((name) => [
              ...readFileSync(join(root, 'analysis', room, name), 'utf8').matchAll(/\bcode: '([a-z-]+)',/g),
            ]),
        )
        .map(([, code]) => code),
    );

  it('of warnings on readings and plans all have words', () => {
    const emitted = codesIn('check', 'level', 'locate', 'plan', 'advice');
    expect(emitted.size).toBeGreaterThan(15);
    expect([...emitted].filter((code) => !(WARNING_CODES as readonly string[]).includes(code))).toEqual([]);
  });

  it('of notes on plans all have words', () => {
    const notes = readFileSync(join(root, 'analysis/plan/notes.ts'), 'utf8');
    const emitted = new Set([...notes.matchAll(/\bcode: '([a-z-]+)',/g)].map(([, code]) => code));
    expect([...emitted].sort()).toEqual([...NOTE_CODES].sort());
  });
});
