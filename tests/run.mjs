// `npm test`: runs vitest and closes with one line, `N passed, N failed`.
// `--browser` runs the browser tests instead (they need a Chromium on the machine).
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const words = process.argv.slice(2);
const browser = words.includes('--browser');
const others = words.filter((w) => w !== '--browser');
const folder = mkdtempSync(join(tmpdir(), 'tonestep-test-'));
const report = join(folder, 'report.json');
const shortList = join(folder, 'short.txt');
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
const config = browser ? ['--config', 'tests/browser/vitest.config.ts'] : [];
const done = spawnSync(
  process.execPath,
  [
    vitest,
    'run',
    ...config,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...others,
  ],
  {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, TONESTEP_SHORT_LIST: shortList },
  },
);
let passed = 0;
let failed = 1;
let skipped = 0;
if (existsSync(report)) {
  const result = JSON.parse(readFileSync(report, 'utf8'));
  passed = result.numPassedTests;
  failed = result.numFailedTests;
  skipped = result.numPendingTests + (result.numTodoTests ?? 0);
  // A file that does not load has no tests to count, but it did fail.
  failed += result.testResults.filter((f) => f.status === 'failed' && f.assertionResults.length === 0).length;
}
if (failed === 0 && (done.status !== 0 || passed === 0)) failed = 1;
if (skipped > 0 && process.env.CI) {
  console.log(`${skipped} tests were skipped; in CI a skip counts as a failure.`);
  failed += skipped;
} else if (skipped > 0) console.log(`${skipped} tests were skipped: what they need is not on this machine.`);
if (existsSync(shortList)) {
  const short = [...new Set(readFileSync(shortList, 'utf8').trim().split('\n'))].sort();
  console.log(`Tried in short here, in full by .ci/run or with TONESTEP_FULL=1:\n  ${short.join('\n  ')}`);
}
if (!browser)
  console.log(
    'Not run here: the browser tests (they need Chromium), the long run of hostile inputs, types and lint. `.ci/run` runs them all.',
  );
rmSync(folder, { recursive: true, force: true });
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
