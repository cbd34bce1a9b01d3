import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommandLine } from '../../../server/commands/commandLine.ts';
import { readPdf } from '../papers/readPdf.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tonestep-sheet-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const at = (name: string): string => join(folder, name);

describe('tonestep sheet', () => {
  it("takes the times of a plan's JSON, and the same times give the same code", async () => {
    const plan = await runCommandLine(['plan', '--times', '30, 60, 120', '--json']);
    writeFileSync(at('plan.json'), plan.stdout);
    const made = await runCommandLine(['sheet', '--plan', at('plan.json'), '--out', at('a.pdf'), '--json']);
    expect({ exit: made.exit, stderr: made.stderr }).toEqual({ exit: 0, stderr: '' });
    const answer = JSON.parse(made.stdout);
    expect(answer.plan).toMatch(/^[0-9a-f]{12}$/);
    const times = JSON.parse(plan.stdout).steps.map((s: { seconds: number }) => s.seconds);
    const again = await runCommandLine([
      'sheet',
      '--times',
      times.join(', '),
      '--paper',
      'letter',
      '--out',
      at('b.pdf'),
      '--json',
    ]);
    expect(JSON.parse(again.stdout).plan).toBe(answer.plan);
    const { pages, words } = await readPdf(readFileSync(at('b.pdf')));
    expect((pages[0].width / 72) * 25.4).toBeCloseTo(279.4, 2);
    expect(words).toContain('0 · 30 · 60 · 120 s');
  });

  it.each([
    [['--times', '30'], 'usage', /--out/],
    [['--paper', 'a3', '--out', 'x.pdf'], 'usage', /a4/],
    [['--plan', 'p.json', '--times', '30', '--out', 'x.pdf'], 'usage', /--times does not go with --plan/],
    [['--id', 'Harbour Festival', '--out', 'x.pdf'], 'plan-invalid', /small letters/],
  ])('refuses %j, and says why', async (words, code, reason) => {
    const { exit, stdout, stderr } = await runCommandLine(['sheet', ...words, '--json']);
    expect(exit).toBe(2);
    expect(JSON.parse(stdout).error.code).toBe(code);
    expect(stderr).toMatch(reason);
  });

  it('names the file that it cannot write, and the plan that is none', async () => {
    const nowhere = await runCommandLine(['sheet', '--out', at('none/sheet.pdf'), '--json']);
    expect(JSON.parse(nowhere.stdout).error.code).toBe('file-unwritable');
    expect(nowhere.stderr).toMatch(/none\/sheet\.pdf: its folder does not exist/);
    writeFileSync(at('no-plan.json'), '{"steps": []}');
    const noPlan = await runCommandLine(['sheet', '--plan', at('no-plan.json'), '--out', at('x.pdf')]);
    expect(noPlan.stderr).toMatch(/holds no plan/);
  });
});
