import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { KNOWN_CARDS } from '../../../analysis/level/cards.ts';
import { parseStrip } from '../../../analysis/level/parseStrip.ts';
import { COMMANDS, runCommandLine } from '../../../server/commands/commandLine.ts';

const page = readFileSync(new URL('../../../docs/commands.md', import.meta.url), 'utf8');

interface Example {
  readonly command: string;
  /** The output as the page shows it; empty where it shows none. */
  readonly shown: string;
}

const examples: readonly Example[] = [
  ...page.matchAll(/```sh\n([\s\S]*?)```(?:\n\n```text\n([\s\S]*?)```)?/g),
].flatMap(([, commands, shown = '']) =>
  commands
    .trim()
    .split('\n')
    .map((command) => ({ command, shown })),
);

/** Words of a shell line; quotes hold words together. */
const wordsOf = (line: string): string[] =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare);

/** Numbers, bars and the chart's drawing move with every method version; words must stay. */
const inWords = (text: string): string =>
  text
    .replace(/[█·]{2,}/g, ' ')
    .replace(/[┊│●!]/g, ' ')
    .replace(/[−+-]?\d[\d.:]*/g, '#')
    .replace(/\s+/g, ' ')
    .trim();

let folder = '';
let typedIn: string | undefined;
let ownBook: string | undefined;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-docs-'));
  // Files that the examples write and read again lie where the commands were typed.
  typedIn = process.env.INIT_CWD;
  process.env.INIT_CWD = folder;
  ownBook = process.env.TONESTEP_DATA;
  process.env.TONESTEP_DATA = join(folder, 'data');
});
afterAll(() => {
  if (typedIn === undefined) delete process.env.INIT_CWD;
  else process.env.INIT_CWD = typedIn;
  if (ownBook === undefined) delete process.env.TONESTEP_DATA;
  else process.env.TONESTEP_DATA = ownBook;
  rmSync(folder, { recursive: true, force: true });
});

test('docs/commands.md has a worked example and a section of every command', () => {
  for (const { name } of COMMANDS) {
    expect(page).toMatch(new RegExp(`^## ${name}$`, 'm'));
    expect(examples.some(({ command, shown }) => command.startsWith(`tonestep ${name} `) && shown)).toBe(
      true,
    );
  }
});

test('docs/commands.md names no option that its command does not take', () => {
  const optionsOf = new Map(
    COMMANDS.map(({ name, options }) => [name, options.map(([option]) => option.split(' ')[0])] as const),
  );
  const [before, ...sections] = page.split(/^## /m);
  const named: string[] = [];
  const wrong = sections.flatMap((section) => {
    const [own] = section.split('\n');
    const code = [...section.matchAll(/`[^`\n]+`|^tonestep .*$/gm)].map(([span]) => span);
    return code.flatMap((span) => {
      // `book ID --again` in the section of another command is about that one.
      const [, other] = /^`?(?:tonestep )?([a-z]+)\b/.exec(span) ?? [];
      const known = optionsOf.get(other ?? own) ?? optionsOf.get(own) ?? [];
      const options = [...span.matchAll(/(?<![\w-])--[a-z][a-z-]*/g)].map(([option]) => option);
      named.push(...options);
      return options.filter((option) => !known.includes(option)).map((option) => `${own}: ${span} ${option}`);
    });
  });
  expect(named.length).toBeGreaterThan(60);
  expect(wrong).toEqual([]);
  // Before the sections stand what every command takes, and start, which is no command of this line.
  const general = [...before.matchAll(/(?<![\w-])--[a-z][a-z-]*/g)].map(([option]) => option);
  expect(general.filter((option) => !['--lan', '--json', '--version'].includes(option))).toEqual([]);
});

test.each(examples)('$command', async ({ command, shown }) => {
  const [line, into] = command.split(' > ');
  const [program, ...words] = wordsOf(line);
  expect(program).toBe('tonestep');
  // A backup is brought back on another machine.
  if (words[0] === 'restore') process.env.TONESTEP_DATA = join(folder, 'other');
  const { stdout, stderr, exit } = await runCommandLine(words);
  expect({ stderr, exit }).toEqual({ stderr: '', exit: 0 });
  if (into) writeFileSync(join(folder, into), stdout);
  const printed = inWords(stdout);
  for (const part of shown.split(/^…$/m)) expect(printed).toContain(inWords(part));
});

const readme = readFileSync(new URL('../../../README.md', import.meta.url), 'utf8');

test('the command of README is answered with a time, and its strip is one', async () => {
  const [, command] = /^npm run -s tonestep -- (.+)$/m.exec(readme) ?? [];
  const { stdout, stderr, exit } = await runCommandLine(wordsOf(command));
  expect({ stderr, exit }).toEqual({ stderr: '', exit: 0 });
  expect(stdout).toMatch(/^Expose \d\d:\d\d/m);
  const [, json] = /```json\n([\s\S]*?)```/.exec(readme) ?? [];
  expect(parseStrip(JSON.parse(json)).steps.length).toBe(4);
});

test.each([
  ['sheet --out sheet.pdf', '%PDF'],
  ['report latest --out strip.pdf', '%PDF'],
])('README names a command that writes a file: %s', async (command, begins) => {
  expect(readme).toContain(`\`${command}\``);
  const { stderr, exit } = await runCommandLine([...wordsOf(command), '--language', 'de']);
  expect({ stderr, exit }).toEqual({ stderr: '', exit: 0 });
  const [, name] = /--out (\S+)/.exec(command) ?? [];
  expect(readFileSync(join(folder, name), 'latin1').slice(0, 4)).toBe(begins);
});

test('README names only cards that the reading knows', () => {
  const [, list] = /Cards known by name: (.+?);/.exec(readme) ?? [];
  const named = [...list.matchAll(/`([^`]+)`/g)].map(([, name]) => name);
  expect(named.toSorted()).toEqual(Object.keys(KNOWN_CARDS).toSorted());
});
