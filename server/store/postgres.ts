import { PostgresDialect, type PostgresPool, type PostgresPoolClient } from 'kysely';
import pg from 'pg';
import { storedValues } from './storedValue.ts';

/** One server needs few connections: it reads photos one at a time. */
const MOST_CONNECTIONS = 8;

/** The same checks as for SQLite; only questions about the server's own tables may hold truth values. */
const guardedClient = (client: pg.PoolClient): PostgresPoolClient => {
  const query = (text: string, values: readonly unknown[] = []) =>
    client.query(text, /\bpg_catalog\b/.test(text) ? [...values] : storedValues(values));
  return { query: query as unknown as PostgresPoolClient['query'], release: () => client.release() };
};

/**
 * Opens a pool on a PostgreSQL database, named as `postgres://user@host/database`.
 *
 * @param patienceMs how long a statement waits for what another program holds.
 */
export const postgresDialect = (url: string, patienceMs: number): PostgresDialect => {
  const pool = new pg.Pool({
    connectionString: url,
    max: MOST_CONNECTIONS,
    connectionTimeoutMillis: 10_000,
    idleTimeoutMillis: 30_000,
    application_name: 'tonestep',
    // Readable from anywhere only once it is on the disk: also where the server is set otherwise.
    options: `-c synchronous_commit=on -c lock_timeout=${Math.max(1, Math.round(patienceMs))}`,
  });
  // A connection that breaks while idle is replaced at the next query.
  pool.on('error', () => undefined);
  const clients = new WeakMap<pg.PoolClient, PostgresPoolClient>();
  const guardedPool: PostgresPool = {
    async connect() {
      const client = await pool.connect();
      const known = clients.get(client);
      if (known) return known;
      // One that breaks between two statements says so here, and again at the next: unheard, it would end the process.
      client.on('error', () => undefined);
      const guarded = guardedClient(client);
      clients.set(client, guarded);
      return guarded;
    },
    end: () => pool.end(),
  } as PostgresPool;
  return new PostgresDialect({ pool: guardedPool });
};
