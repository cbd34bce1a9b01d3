// Packs the package, installs it into an empty folder as a user would, and runs `tonestep` from a third one.
// Last line: `N passed, N failed`.
import { spawn, spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const folder = mkdtempSync(join(tmpdir(), 'tonestep-pack-'));
const home = join(folder, 'home');
const elsewhere = join(folder, 'elsewhere');
let passed = 0;
let failed = 0;

const check = (fact, holds, said = '') => {
  if (holds) passed += 1;
  else failed += 1;
  console.log(`${holds ? 'holds' : 'FAILS'}: ${fact}${holds || !said ? '' : `\n${said}`}`);
  return holds;
};
const run = (command, args, cwd) => spawnSync(command, args, { cwd, encoding: 'utf8' });

/** Asks the installed program for its page, its demo and a worker's reading. */
const serves = (command) =>
  new Promise((settle) => {
    const server = spawn(command, ['start'], {
      cwd: elsewhere,
      env: { ...process.env, PORT: '0', TONESTEP_DATA: join(folder, 'data') },
    });
    let said = '';
    const end = (outcome) => {
      server.kill('SIGTERM');
      settle(outcome);
    };
    const timer = setTimeout(() => end({ ok: false, said }), 60_000);
    server.stderr.on('data', (text) => {
      said += text;
    });
    server.stdout.on('data', async (text) => {
      said += text;
      const match = /http:\/\/localhost:\d+/.exec(String(text));
      if (!match) return;
      clearTimeout(timer);
      try {
        const page = await (await fetch(match[0])).text();
        const demo = await (await fetch(`${match[0]}/api/demos/hemp-banner-blue`)).json();
        end({
          ok: page.includes('<title>Tonestep') && demo.reading?.advice.roundedSeconds > 0,
          said: `${said}${JSON.stringify(demo).slice(0, 300)}`,
        });
      } catch (error) {
        end({ ok: false, said: `${said}${error}` });
      }
    });
  });

try {
  for (const name of [home, elsewhere]) mkdirSync(name);
  writeFileSync(join(home, 'package.json'), '{"private":true}');
  const packed = run('npm', ['pack', '--silent', '--pack-destination', folder], root);
  const archive = readdirSync(folder).find((name) => name.endsWith('.tgz'));
  if (check('npm pack makes an archive', packed.status === 0 && archive, packed.stderr)) {
    const listed = run('tar', ['-tzf', join(folder, archive)], folder).stdout.split('\n');
    check(
      'it holds no tests, no sources and no source maps',
      !listed.some((name) => /^package\/(tests|analysis|web)\/|\.ts$|\.map$/.test(name)),
    );
    const installed = run(
      'npm',
      ['install', '--omit=dev', '--no-audit', '--no-fund', '--prefer-offline', join(folder, archive)],
      home,
    );
    if (
      check('npm install takes it, without development packages', installed.status === 0, installed.stderr)
    ) {
      const command = join(home, 'node_modules', '.bin', 'tonestep');
      const plan = run(command, ['plan', '--around', '4 min', '--json'], elsewhere);
      check(
        'tonestep plan answers from another folder',
        plan.status === 0 && JSON.parse(plan.stdout).lampSeconds === 480,
        plan.stderr,
      );
      const names = ['hemp-banner-blue', 'silk-scarf-plum'];
      for (const name of names)
        for (const ending of ['jpg', 'strip.json', 'marks.json'])
          copyFileSync(
            join(root, 'fixtures', 'demo', `${name}.${ending}`),
            join(elsewhere, `${name}.${ending}`),
          );
      const read = run(command, ['read', ...names.map((name) => `${name}.jpg`), '--json'], elsewhere);
      check(
        'tonestep read reads two photos there, on its workers',
        read.status === 0 && JSON.parse(read.stdout).every((one) => one.reading.advice.roundedSeconds > 0),
        read.stderr,
      );
      const { ok, said } = await serves(command);
      check('tonestep start serves page and demo', ok, said);
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
