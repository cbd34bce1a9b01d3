import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';

const root = join(import.meta.dirname, '../../..');

/** As a user runs it: through npm, built where sources are newer than the build, which it says on stderr. */
const tonestep = (words: string, after = '') => {
  const command = `npm run -s tonestep -- ${words} ${after}`;
  const { stdout, stderr, status } = spawnSync('sh', ['-c', command], { cwd: root, encoding: 'utf8' });
  return { stdout, stderr: stderr.replace(/^(Installing|Building)[^\n]*…\n/gm, ''), status };
};

beforeAll(() => {
  tonestep('help');
}, 120_000);

test('npm run tonestep -- plan --json prints one JSON object and ends with 0', () => {
  const { stdout, stderr, status } = tonestep('plan --around "4 min" --json');
  expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
  expect(stdout.trimEnd()).not.toContain('\n');
  expect(JSON.parse(stdout).lampSeconds).toBe(480);
});

test('npm run tonestep -- read of a file that is not there prints one line and one object and ends with 2', () => {
  const { stdout, stderr, status } = tonestep('read nowhere.jpg --strip nowhere.json --json');
  expect(status).toBe(2);
  expect(stderr).toMatch(/^tonestep: [^\n]+\n$/);
  expect(JSON.parse(stdout)).toMatchObject({ error: { code: 'file-unreadable' } });
});

test('a reader that closes the pipe before a word has come sees no stack trace', () => {
  const { stderr } = tonestep('plan', '| true');
  expect(stderr).toBe('');
});
