#!/usr/bin/env node
// Gets a fresh clone ready, then hands over: installs when the lock file is newer than what is installed, builds when
// a source is newer than the build. Plain JavaScript, since nothing is installed yet when it starts.
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const say = (text) => process.stderr.write(`${text}\n`);
const at = (...parts) => join(root, ...parts);

const run = (command, args, { quiet = false } = {}) => {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: quiet ? ['ignore', 'pipe', 'pipe'] : ['ignore', process.stderr, process.stderr],
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) {
    if (quiet) say(`${done.stdout ?? ''}${done.stderr ?? ''}`);
    say(
      `Stopped: "${command} ${args.join(' ')}" did not succeed. Put right what it says above, then try again.`,
    );
    process.exit(1);
  }
};

const modified = (path) => (existsSync(path) ? statSync(path).mtimeMs : 0);

const newestUnder = (path) => {
  if (!existsSync(path)) return 0;
  const info = statSync(path);
  if (!info.isDirectory()) return info.mtimeMs;
  return readdirSync(path).reduce((newest, name) => Math.max(newest, newestUnder(join(path, name))), 0);
};

const install = () => {
  const lock = at('package-lock.json');
  // A linked node_modules belongs to another copy of the project: `npm ci` would empty it there.
  if (lstatSync(at('node_modules'), { throwIfNoEntry: false })?.isSymbolicLink()) return;
  if (!existsSync(lock) || modified(at('node_modules', '.package-lock.json')) >= modified(lock)) return;
  const mark = at('node_modules', '.installed-from');
  const wanted = readFileSync(lock, 'utf8');
  if (existsSync(mark) && readFileSync(mark, 'utf8') === wanted) return;
  say('Installing packages (once) …');
  run('npm', ['ci', '--no-audit', '--no-fund', '--include=dev'], { quiet: true });
  writeFileSync(mark, wanted);
};

const sources = [
  'analysis',
  'server',
  'web',
  'fixtures/demo',
  'package-lock.json',
  'vite.config.ts',
  'vite.server.config.ts',
];

const build = () => {
  const stamp = at('dist', '.built');
  if (!sources.some((name) => existsSync(at(name)))) return;
  if (modified(stamp) > Math.max(...sources.map((name) => newestUnder(at(name))))) return;
  say('Building …');
  const vite = at('node_modules', 'vite', 'bin', 'vite.js');
  const started = new Date();
  run(process.execPath, [vite, 'build', '--logLevel', 'warn'], { quiet: true });
  run(process.execPath, [vite, 'build', '--config', 'vite.server.config.ts', '--logLevel', 'warn'], {
    quiet: true,
  });
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, started.toISOString());
};

const hand = (script, args) => {
  const done = spawnSync(process.execPath, [script, ...args], { stdio: 'inherit' });
  process.exit(done.status ?? 1);
};

const [major, minor] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  say(
    `Tonestep needs Node.js 20.19 or newer; this is ${process.versions.node}. Install a newer Node.js, then try again.`,
  );
  process.exit(1);
}

const words = process.argv.slice(2);
// A copy out of `npm pack` is built already and has no sources.
const isInstalledCopy = !existsSync(at('vite.config.ts'));
const tasks = isInstalledCopy ? ['start'] : ['start', 'cli', 'test', 'build', 'bench', 'hostile'];
const named = tasks.includes(words[0]) ? words.shift() : 'cli';
// "tonestep start" is the page in a checkout as well.
const task = named === 'cli' && words[0] === 'start' ? words.shift() : named;
if (!isInstalledCopy) install();
if (task === 'test') hand(at('tests', 'run.mjs'), words);
else if (task === 'bench')
  hand(at('node_modules', 'tsx', 'dist', 'cli.mjs'), [at('tests', 'bench', 'bench.ts'), ...words]);
else if (task === 'hostile') {
  build();
  hand(at('node_modules', 'tsx', 'dist', 'cli.mjs'), [at('tests', 'hostile', 'hostile.ts'), ...words]);
} else {
  if (!isInstalledCopy) build();
  if (task === 'start') {
    // In this process, so that the terminal's Ctrl-C reaches the server alone.
    process.argv = [process.execPath, at('dist', 'server', 'main.js'), ...words];
    await import(pathToFileURL(at('dist', 'server', 'main.js')).href);
  } else if (task === 'cli') {
    process.argv = [process.execPath, at('dist', 'server', 'cli.js'), ...words];
    await import(pathToFileURL(at('dist', 'server', 'cli.js')).href);
  }
}
