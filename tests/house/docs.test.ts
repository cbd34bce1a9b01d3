import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { english as words } from '../../web/words/english.ts';

const root = resolve(import.meta.dirname, '../..');
const read = (path: string) => readFileSync(join(root, path), 'utf8');
const pathsUnder = (folder: string, ending: RegExp): string[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .map((name) => join(folder, name))
    .filter((path) => ending.test(path));

const PAGES = ['README.md', 'DEVELOPERS.md', 'fixtures/README.md', ...pathsUnder('docs', /\.md$/)];

/** Markdown as it is read: code blocks and inline code hold no links and no headings. */
const prose = (page: string) =>
  read(page)
    .replace(/^```[\s\S]*?^```$/gm, '')
    .replace(/`[^`\n]*`/g, (code) => code.replace(/[[\]]/g, ' '));

/** The names by which a page's headings are reached, as most Markdown viewers make them. */
const headingsOf = (page: string): string[] =>
  [
    ...read(page)
      .replace(/^```[\s\S]*?^```$/gm, '')
      .matchAll(/^#{1,6} +(.+?)\s*$/gm),
  ].map(([, heading]) =>
    heading
      .toLowerCase()
      .replace(/[^\p{L}\p{N}\p{M}_ -]/gu, '')
      .replaceAll(' ', '-'),
  );

const links = PAGES.flatMap((page) =>
  [...prose(page).matchAll(/\]\(\s*<?([^)\s>]+)>?(?:\s+"[^"]*")?\s*\)/g)].map(([, target]) => ({
    page,
    target,
  })),
).filter(({ target }) => !/^[a-z]+:/i.test(target));

describe('links between pages', () => {
  it('are found at all: more than eight', () => {
    expect(links.length).toBeGreaterThan(8);
  });

  it('lead to files that exist', () => {
    const lost = links.filter(({ page, target }) => {
      const [path] = target.split('#');
      return path !== '' && !existsSync(join(root, dirname(page), decodeURI(path)));
    });
    expect(lost.map(({ page, target }) => `${page} → ${target}`)).toEqual([]);
  });

  it('lead to headings that exist, where they name one', () => {
    const lost = links.filter(({ page, target }) => {
      const [path, heading] = target.split('#');
      if (!heading) return false;
      const goal = path === '' ? page : relative(root, resolve(root, dirname(page), path));
      return !(existsSync(join(root, goal)) && headingsOf(goal).includes(decodeURIComponent(heading)));
    });
    expect(lost.map(({ page, target }) => `${page} → ${target}`)).toEqual([]);
  });
});

describe('pages', () => {
  it('can all be reached from README by links; decisions lie in their folder', () => {
    const reached = new Set(['README.md']);
    for (const page of reached)
      for (const { target } of links.filter((link) => link.page === page)) {
        const goal = relative(root, resolve(root, dirname(page), decodeURI(target.split('#')[0]))).replaceAll(
          '\\',
          '/',
        );
        if (PAGES.includes(goal)) reached.add(goal);
      }
    expect(PAGES.filter((page) => !reached.has(page) && !page.startsWith('docs/decisions/'))).toEqual([]);
  });
});

const SOURCE_KEYS = new Set(
  [...read('docs/sources.md').matchAll(/^\| ([^|]+?) \|/gm)].flatMap(([, cell]) => cell.split(', ')),
);

/** A key as it stands in brackets: one word with a capital, a digit or a hyphen; `[i]` and `[x, y]` are none. */
const KEY = /(?<![\w\])])\[([A-Za-z][\p{L}\d.:+-]*)\](?![([])/gu;
const keysIn = (text: string): string[] =>
  [...text.matchAll(KEY)].map(([, key]) => key).filter((key) => /[A-Z\d-]/.test(key));

describe('sources', () => {
  it('have rows with a key each, and no key twice', () => {
    const rows = [...read('docs/sources.md').matchAll(/^\| ([^|]+?) \| [^|]+ \| [^|]+ \|$/gm)]
      .flatMap(([, cell]) => cell.split(', '))
      .filter((key) => key !== 'key' && key !== '---');
    expect(rows.length).toBeGreaterThan(30);
    expect(rows.filter((key, i) => rows.indexOf(key) !== i)).toEqual([]);
  });

  it('have a row for every key that a comment in the code cites', () => {
    const cited = ['analysis', 'server', 'web', 'fixtures']
      .flatMap((room) => pathsUnder(room, /\.tsx?$/))
      .flatMap((path) =>
        [...read(path).matchAll(/\/\*[\s\S]*?\*\/|\/\/.*$/gm)].flatMap(([comment]) =>
          keysIn(comment.replace(/`[^`\n]*`/g, '').replace(/@example.*/g, '')).map((key) => ({ path, key })),
        ),
      );
    expect(cited.length).toBeGreaterThan(40);
    const unknown = cited.filter(({ key }) => !SOURCE_KEYS.has(key));
    expect(unknown.map(({ path, key }) => `${path} cites [${key}]`)).toEqual([]);
  });

  it('have a row for every key that the method cites', () => {
    const cited = prose('docs/method.md')
      .split('\n')
      .flatMap((line) =>
        [...line.matchAll(/\[([^\][]+)\](?!\()/g)].flatMap(([, group]) => group.split(/[,;] /)),
      );
    expect(cited.length).toBeGreaterThan(5);
    expect(cited.filter((key) => !SOURCE_KEYS.has(key))).toEqual([]);
  });
});

describe('README and DEVELOPERS', () => {
  it.each(['README.md', 'DEVELOPERS.md'])('%s names only npm scripts that exist', (page) => {
    const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
    const named = [...read(page).matchAll(/npm (?:run (?:-s |--silent )?([\w:-]+)|(start|test)\b)/g)].map(
      ([, run, short]) => run ?? short,
    );
    expect(named.length).toBeGreaterThan(2);
    expect(named.filter((name) => !Object.hasOwn(scripts, name))).toEqual([]);
  });

  it('README.md names only labels that the page has', () => {
    const textsIn = (value: unknown): string[] =>
      typeof value === 'string'
        ? [value]
        : typeof value === 'object' && value !== null
          ? Object.values(value).flatMap(textsIn)
          : [];
    const labels = new Set(textsIn(words).map((text) => text.toLowerCase()));
    const named = [...prose('README.md').matchAll(/(?<![\w*])_([^_\n]+)_(?!\w)/g)].map(([, label]) => label);
    expect(named.length).toBeGreaterThan(7);
    expect(named.filter((label) => !labels.has(label.toLowerCase()))).toEqual([]);
  });

  it('DEVELOPERS.md stays under 150 lines', () => {
    expect(read('DEVELOPERS.md').split('\n').length).toBeLessThan(150);
  });

  it('DEVELOPERS.md names every room of analysis, and only those', () => {
    const rooms = readdirSync(join(root, 'analysis')).filter((name) =>
      statSync(join(root, 'analysis', name)).isDirectory(),
    );
    const map = read('DEVELOPERS.md').split('server/')[0];
    const named = [...map.matchAll(/^ {2}([a-z]+)\/ /gm)].map(([, name]) => name);
    expect([...named].sort()).toEqual([...rooms].sort());
  });
});

describe('refusals', () => {
  const codes = [
    ...read('analysis/errors.ts')
      .split('AnalysisErrorCode =')[1]
      .split(';')[0]
      .matchAll(/\| '([a-z-]+)'/g),
  ].map(([, code]) => code);

  it('are a closed list of more than ten codes', () => {
    expect(codes.length).toBeGreaterThan(10);
  });

  it.each(codes)('of the analysis have words on the page: %s', (code) => {
    expect(Object.keys(words.errors)).toContain(code);
  });

  it('thrown in the analysis have a code of the list, each thrown somewhere', () => {
    const texts = pathsUnder('analysis', /\.ts$/)
      .filter((path) => path !== 'analysis/errors.ts')
      .map(read);
    const thrown = texts.flatMap((text) =>
      [...text.matchAll(/new AnalysisError\(\s*'([a-z-]+)'/g)].map(([, code]) => code),
    );
    expect(thrown.filter((code) => !codes.includes(code))).toEqual([]);
    expect(codes.filter((code) => !texts.some((text) => text.includes(`'${code}'`)))).toEqual([]);
  });
});

describe.skipIf(!existsSync(join(root, '.git')))('the top of the repository', () => {
  it('holds only what a reader expects there', () => {
    const allowed =
      /^(README\.md|DEVELOPERS\.md|LICENSE|package(-lock)?\.json|tsconfig\.json|biome\.json|vite(\.\w+)?\.config\.ts|vitest\.config\.ts|\.gitignore|\.ci|analysis|server|web|tests|fixtures|docs)$/;
    const files = execFileSync('git', ['ls-files', '-z'], { cwd: root, encoding: 'utf8' }).split('\0');
    const top = [...new Set(files.map((path) => path.split('/')[0]))].filter((name) => name !== '');
    expect(top.length).toBeGreaterThan(10);
    expect(top.filter((name) => !allowed.test(name))).toEqual([]);
  });
});
