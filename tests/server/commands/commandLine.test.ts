import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { COMMANDS, runCommandLine } from '../../../server/commands/commandLine.ts';
import { longestLine } from './readingFile.ts';

describe('the command line', () => {
  test('without a command prints the overview and ends with 2; with help it ends with 0', async () => {
    const bare = await runCommandLine([]);
    const help = await runCommandLine(['help']);
    expect(bare).toMatchObject({ exit: 2, stdout: help.stdout });
    expect(help.exit).toBe(0);
    for (const { name } of COMMANDS) expect(help.stdout).toContain(`tonestep ${name}`);
    expect(longestLine(help.stdout)).toBeLessThanOrEqual(80);
  });

  test('has help on start, which stands alone, and says its version', async () => {
    const { stdout, exit } = await runCommandLine(['help', 'start']);
    expect(exit).toBe(0);
    expect(stdout).toMatch(/--lan[\s\S]*paired|--lan[\s\S]*pair on the page/);
    const { version } = JSON.parse(readFileSync(new URL('../../../package.json', import.meta.url), 'utf8'));
    expect(await runCommandLine(['--version'])).toEqual({ stdout: `${version}\n`, stderr: '', exit: 0 });
  });

  test.each(COMMANDS.map((c) => c.name))(
    'help on %s names every option that its forms name',
    async (name) => {
      const { stdout, exit } = await runCommandLine(['help', name]);
      expect(exit).toBe(0);
      expect(longestLine(stdout)).toBeLessThanOrEqual(80);
      expect(await runCommandLine([name, '--help'])).toEqual({ stdout, stderr: '', exit: 0 });
      const command = COMMANDS.find((c) => c.name === name)!;
      const listed = command.options.map(([option]) => option.split(' ')[0]);
      const used = command.usage.flatMap((form) => form.match(/--[a-z-]+/g) ?? []);
      expect(used.length).toBeGreaterThan(0);
      expect(used.filter((option) => !listed.includes(option))).toEqual([]);
      expect(listed).toContain('--json');
    },
  );

  test.each(COMMANDS.map((c) => c.name))(
    '%s refuses an unknown option with one line and exit 2, and one JSON object with --json',
    async (name) => {
      const plain = await runCommandLine([name, '--purple']);
      expect(plain).toMatchObject({ exit: 2, stdout: '' });
      expect(plain.stderr).toMatch(/^tonestep: [^\n]*--purple[^\n]*\n$/);
      const json = await runCommandLine([name, '--purple', '--json']);
      expect(json.exit).toBe(2);
      expect(json.stdout.endsWith('}\n')).toBe(true);
      expect(JSON.parse(json.stdout)).toEqual({
        error: { code: 'usage', message: json.stderr.replace(/^tonestep: |\n$/g, '') },
      });
    },
  );

  test('names the commands that exist where one does not', async () => {
    const { stderr, exit } = await runCommandLine(['frobnicate']);
    expect(exit).toBe(2);
    expect(stderr).toContain(COMMANDS.map(({ name }) => name).join(', '));
    expect((await runCommandLine(['help', 'frobnicate'])).exit).toBe(2);
  });

  test.each([
    [['plan', '--around'], /--around/],
    [['plan', '--around', '--json'], /--around/],
    [['plan', '--count', 'six'], /--count.*"six"/],
    [['plan', '--count', '2.5'], /whole number/],
    [['plan', '--light', 'candle'], /tubes, led, sun, other/],
    [['plan', 'read'], /"read"/],
    [['read'], /photo/],
    [['read', '--strip'], /--strip has no value/],
    [['start', '--json'], /"start" stands alone/],
    [['read', 'a.jpg'], /no such file/],
    [['read', 'README.md'], /README\.strip\.json beside it, or add --strip/],
    [['read', 'a.jpg', 'b.jpg', '--marks', 'c.json'], /--marks goes with one/],
    [['compare', 'one.json'], /2 to 12/],
    [['transfer', '--scrap', '90=45±1'], /--curve/],
    [['transfer', '--curve', 'a.json'], /--scrap/],
    [['transfer', '--curve', 'a.json', '--scrap', '90:45'], /90=45\.2±0\.6/],
    [['drift'], /records/],
    [['evenness', 'cells.json'], /--curve/],
  ] as const)('%j is refused and says what is missing', async (words, why) => {
    const { stdout, stderr, exit } = await runCommandLine(words);
    expect(exit).toBe(2);
    expect(stderr).toMatch(why);
    expect(stderr.trimEnd()).not.toContain('\n');
    if (!words.some((word) => word === '--json')) expect(stdout).toBe('');
  });

  test('prints no escape sequence that a file’s or an option’s text brings along', async () => {
    const { stderr } = await runCommandLine(['plan', '--light', '\u001b[31mred\u0007']);
    expect(stderr).toContain('[31mred');
    expect(stderr.trimEnd()).not.toMatch(/\p{Cc}/u);
  });
});
