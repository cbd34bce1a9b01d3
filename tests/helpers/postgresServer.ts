import { execFileSync, spawnSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  realpathSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import pg from 'pg';

/** A PostgreSQL server of one test file, gone afterwards. */
export interface PostgresServer {
  /** The address of a fresh, empty database. */
  readonly makeDatabase: () => Promise<string>;
  readonly stop: () => void;
}

/** Where initdb really lies: Debian keeps the server's programs off the path, a folder for each version. */
const programFolder = (): string | null => {
  const found = spawnSync('sh', ['-c', 'command -v initdb'], { encoding: 'utf8' });
  if (found.status === 0) return dirname(realpathSync(found.stdout.trim()));
  const debian = '/usr/lib/postgresql';
  if (!existsSync(debian)) return null;
  const versions = readdirSync(debian).sort((a, b) => Number(b) - Number(a));
  return (
    versions.map((version) => join(debian, version, 'bin')).find((bin) => existsSync(join(bin, 'initdb'))) ??
    null
  );
};

const programs = programFolder();

/** Why there is no PostgreSQL to test with; null where there is. */
export const noPostgres: string | null =
  programs === null ? 'the programs initdb and pg_ctl are not on this machine (Debian: postgresql)' : null;

/** PostgreSQL refuses to run as root, so a root test lends it to the user that every Unix has for such things. */
const asUser = (words: readonly string[]): readonly [string, readonly string[]] => {
  if (process.getuid?.() !== 0) return [words[0], words.slice(1)];
  return ['setpriv', ['--reuid=65534', '--regid=65534', '--clear-groups', ...words]];
};

export const startPostgres = (): PostgresServer => {
  if (programs === null) throw new Error(`PostgreSQL can't be started: ${noPostgres}`);
  const folder = mkdtempSync(join(tmpdir(), 'tonestep-pg-'));
  chmodSync(folder, 0o700);
  if (process.getuid?.() === 0) chownSync(folder, 65534, 65534);
  const data = join(folder, 'data');
  const run = (...words: readonly string[]): void => {
    const [program, rest] = asUser(words);
    execFileSync(program, [...rest], {
      stdio: ['ignore', 'ignore', 'pipe'],
      cwd: folder,
      env: { ...process.env, HOME: folder, LC_ALL: 'C' },
    });
  };
  run(join(programs, 'initdb'), '-D', data, '-U', 'tonestep', '-A', 'trust', '-E', 'UTF8', '--no-sync');
  const port = 20_000 + (process.pid % 20_000);
  writeFileSync(
    join(data, 'postgresql.auto.conf'),
    `listen_addresses = '127.0.0.1'\nport = ${port}\nunix_socket_directories = ''\nmax_connections = 40\nfsync = off\n`,
  );
  run(join(programs, 'pg_ctl'), '-D', data, '-l', join(folder, 'log'), '-w', '-t', '60', 'start');
  return {
    async makeDatabase() {
      const name = `book_${randomUUID().replaceAll('-', '')}`;
      const client = new pg.Client(`postgres://tonestep@127.0.0.1:${port}/postgres`);
      await client.connect();
      await client.query(`create database ${name}`);
      await client.end();
      return `postgres://tonestep@127.0.0.1:${port}/${name}`;
    },
    stop() {
      run(join(programs, 'pg_ctl'), '-D', data, '-m', 'immediate', '-w', 'stop');
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
