import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Store } from '../../server/store/openStore.ts';

const script = join(import.meta.dirname, 'bookWriter.ts');

export interface WriterOptions {
  readonly folder: string;
  /** File of a fitted reading, as JSON. */
  readonly readingPath: string;
  readonly seed: number;
  readonly writes: number;
  readonly databaseUrl?: string;
  /** Kill it with signal 9 as soon as it has acknowledged so many writes. */
  readonly killAfter?: number;
}

export interface WriterResult {
  /** "reading ID SHA256", "print ID", "note ID", "away ID". */
  readonly acknowledged: readonly string[];
  readonly done: boolean;
  readonly errors: string;
}

/** Runs one writer to its end, or to the moment at which it is killed. */
export const runWriter = ({
  folder,
  readingPath,
  seed,
  writes,
  databaseUrl,
  killAfter,
}: WriterOptions): Promise<WriterResult> =>
  new Promise((resolve, reject) => {
    const child = spawn(
      process.execPath,
      [
        '--import',
        'tsx',
        script,
        folder,
        readingPath,
        String(seed),
        String(writes),
        ...(databaseUrl ? [databaseUrl] : []),
      ],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    const acknowledged: string[] = [];
    let done = false;
    let errors = '';
    child.stderr.on('data', (text) => {
      errors += text;
    });
    createInterface({ input: child.stdout }).on('line', (line) => {
      if (line === 'done') done = true;
      else if (line !== 'open') {
        acknowledged.push(line);
        if (acknowledged.length === killAfter) child.kill('SIGKILL');
      }
    });
    child.on('error', reject);
    child.on('close', () => resolve({ acknowledged, done, errors }));
  });

/** What was acknowledged and is not in the book as it was said. */
export const missingFrom = async (store: Store, acknowledged: readonly string[]): Promise<string[]> =>
  store.read(async (db) => {
    const readings = new Map(
      (await db.selectFrom('readings').select(['id', 'photo', 'putAwayAt']).execute()).map((r) => [r.id, r]),
    );
    const bodies = new Set(
      (await db.selectFrom('readingBodies').select('readingId').execute()).map((r) => r.readingId),
    );
    const prints = new Set((await db.selectFrom('prints').select('id').execute()).map((r) => r.id));
    const notes = new Set((await db.selectFrom('notes').select('id').execute()).map((r) => r.id));
    const kept = (line: string): boolean => {
      const [kind, id, sha256] = line.split(' ');
      if (kind === 'reading') return readings.get(id)?.photo === sha256 && bodies.has(id);
      if (kind === 'away') return readings.get(id)?.putAwayAt != null;
      return (kind === 'print' ? prints : notes).has(id);
    };
    return acknowledged.filter((line) => !kept(line));
  });
