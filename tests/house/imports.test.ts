import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');

const filesUnder = (folder: string): string[] =>
  readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return filesUnder(path);
    return /\.(ts|tsx|mts)$/.test(entry.name) ? [path] : [];
  });

/** Every module a file names: import, export … from, import(), type imports included, and inline import types. */
const importsOf = (path: string): string[] => {
  const text = readFileSync(join(root, path), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '');
  const found: string[] = [];
  const patterns = [
    /(?:^|\n)\s*(?:import|export)\s[^'"`;]*?from\s*['"]([^'"]+)['"]/g,
    /(?:^|\n)\s*import\s*['"]([^'"]+)['"]/g,
    /\bimport\(\s*['"]([^'"]+)['"]/g,
  ];
  for (const pattern of patterns) for (const match of text.matchAll(pattern)) found.push(match[1]);
  return found;
};

interface Import {
  readonly from: string;
  /** A path of the project, or the name of a package. */
  readonly to: string;
}

const allImports = (folders: readonly string[]): Import[] =>
  folders.flatMap(filesUnder).flatMap((from) =>
    importsOf(from).map((name) => ({
      from,
      to: name.startsWith('.')
        ? relative(root, resolve(root, dirname(from), name)).replaceAll('\\', '/')
        : name,
    })),
  );

const roomOf = (path: string): string => path.split('/')[0];
const isPackage = (to: string, names: readonly string[]) =>
  names.some((n) => to === n || to.startsWith(`${n}/`));
const say = (wrong: readonly Import[]) => wrong.map((i) => `${i.from} imports ${i.to}`);

const imports = allImports(['analysis', 'server', 'web', 'fixtures']);

/** Stages of the pipeline in the order in which a photo passes them; an import may only look back. */
const STAGES = [
  'colour',
  'photo',
  'sheet',
  'locate',
  'tiles',
  'check',
  'level',
  'steps',
  'curve',
  'plan',
  'advice',
  'across',
  'words',
];
/** Types of what the printer says, which every stage may name. */
const SPOKEN = [
  'analysis/level/card.ts',
  'analysis/errors.ts',
  'analysis/firstIssue.ts',
  'analysis/phrases.ts',
];
/** What the page may take from the analysis: pure parts only. */
const PAGE_MAY = ['colour', 'curve', 'advice', 'plan', 'across', 'words'];

describe('imports', () => {
  it('are found at all: the walk sees more than 100', () => {
    expect(imports.length).toBeGreaterThan(100);
  });

  it('name files that exist, with their ending', () => {
    const known = new Set([
      ...filesUnder('analysis'),
      ...filesUnder('server'),
      ...filesUnder('web'),
      ...filesUnder('fixtures'),
    ]);
    const wrong = imports.filter(
      (i) => /^(analysis|server|web|fixtures)\//.test(i.to) && /\.tsx?$/.test(i.to) && !known.has(i.to),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('lead from analysis only to analysis', () => {
    const wrong = imports.filter(
      (i) => roomOf(i.from) === 'analysis' && /^(server|web|fixtures|tests)\//.test(i.to),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('lead from analysis to no clock, disk or network', () => {
    const wrong = imports.filter(
      (i) =>
        roomOf(i.from) === 'analysis' &&
        /^(node:)?(fs|http|https|net|child_process|worker_threads|os)(\/|$)/.test(i.to),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('lead from server to analysis and server only', () => {
    const wrong = imports.filter((i) => roomOf(i.from) === 'server' && /^(web|fixtures|tests)\//.test(i.to));
    expect(say(wrong)).toEqual([]);
  });

  it('lead from web to contracts and the pure parts of analysis only', () => {
    const wrong = imports.filter((i) => {
      if (roomOf(i.from) !== 'web') return false;
      if (i.to.startsWith('web/') || i.to.startsWith('server/contracts/')) return false;
      if (i.to.startsWith('analysis/'))
        return !(PAGE_MAY.includes(i.to.split('/')[1]) || SPOKEN.includes(i.to));
      return /^(server|fixtures|tests)\//.test(i.to);
    });
    expect(say(wrong)).toEqual([]);
  });

  it('lead from contracts to zod, contracts and types of analysis only', () => {
    const wrong = imports.filter(
      (i) =>
        i.from.startsWith('server/contracts/') &&
        !(i.to.startsWith('server/contracts/') || i.to.startsWith('analysis/') || isPackage(i.to, ['zod'])),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('keep the renderer of fixtures apart from what it tests', () => {
    const wrong = imports.filter(
      (i) => roomOf(i.from) === 'fixtures' && /^(analysis|server|web)\//.test(i.to),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('follow the pipeline within analysis: a stage knows only those before it', () => {
    const wrong = imports.filter((i) => {
      const from = STAGES.indexOf(i.from.split('/')[1]);
      const to = STAGES.indexOf(i.to.split('/')[1]);
      return roomOf(i.from) === 'analysis' && from >= 0 && to > from && !SPOKEN.includes(i.to);
    });
    expect(say(wrong)).toEqual([]);
  });

  it('bring sharp, HEIC and ICC in through analysis/photo alone', () => {
    const wrong = imports.filter(
      (i) =>
        isPackage(i.to, ['sharp', 'libheif-js', 'lcms-wasm']) &&
        !i.from.startsWith('analysis/photo/') &&
        !i.from.startsWith('fixtures/'),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('bring culori in through analysis/colour alone', () => {
    const wrong = imports.filter(
      (i) => isPackage(i.to, ['culori']) && !i.from.startsWith('analysis/colour/'),
    );
    expect(say(wrong)).toEqual([]);
  });

  it('do not run in circles', () => {
    const next = new Map<string, string[]>();
    for (const { from, to } of imports)
      if (/\.tsx?$/.test(to)) next.set(from, [...(next.get(from) ?? []), to]);
    const state = new Map<string, 'open' | 'done'>();
    const circles: string[] = [];
    const walk = (file: string, path: readonly string[]): void => {
      if (state.get(file) === 'done') return;
      if (state.get(file) === 'open') {
        circles.push([...path.slice(path.indexOf(file)), file].join(' → '));
        return;
      }
      state.set(file, 'open');
      for (const to of next.get(file) ?? []) walk(to, [...path, file]);
      state.set(file, 'done');
    };
    for (const file of next.keys()) walk(file, []);
    expect(circles).toEqual([]);
  });
});
