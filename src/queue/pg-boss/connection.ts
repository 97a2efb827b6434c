// Statements for the queue, on a few connections. A statement that failed takes its connection with it: one of several in a text may have
// left a transaction open.
import pg from 'pg';
import { storeUnreachable, storeUnwell } from '../../errors/ledger-errors.ts';

/** A worker asks, says and stores; what it stores goes by the store's own connections. */
const CONNECTIONS = 3;
const CONNECT_MS = 15_000;

export interface Connection {
  query<T extends pg.QueryResultRow>(text: string, values?: readonly unknown[]): Promise<readonly T[]>;
  /** What the library asks. */
  readonly asked: { executeSql(text: string, values?: unknown[]): Promise<{ rows: unknown[] }> };
  /** All of it or nothing. */
  together<T>(work: (asked: Connection['asked']) => Promise<T>): Promise<T>;
  readonly config: pg.ClientConfig;
  /** As messages name it. */
  readonly place: string;
  close(): Promise<void>;
}

/** @param place as messages name it */
export function connectTo(where: { readonly address: string; readonly place: string; readonly name: string }): Connection {
  const config: pg.ClientConfig = {
    connectionString: where.address,
    application_name: where.name.slice(0, 63),
    connectionTimeoutMillis: CONNECT_MS,
    keepAlive: true,
  };
  const pool = new pg.Pool({ ...config, max: CONNECTIONS });
  // A connection that breaks while nobody uses it is replaced by the next question.
  pool.on('error', () => undefined);
  // One that breaks while it is used fails its question; that it says so as an event too must not end the process.
  pool.on('connect', (client) => client.on('error', () => undefined));

  const withClient = async <T>(work: (client: pg.PoolClient) => Promise<T>): Promise<T> => {
    let client: pg.PoolClient | undefined;
    try {
      client = await pool.connect();
      const found = await work(client);
      client.release();
      return found;
    } catch (error) {
      client?.release(true);
      throw faultOf(where.place, error);
    }
  };
  const askedOn = (client: pg.PoolClient): Connection['asked'] => ({
    executeSql: async (text, values) => {
      const answer: unknown = values === undefined ? await client.query(text) : await client.query(text, values);
      // Several statements in one text give several answers; nobody reads their rows.
      return Array.isArray(answer) ? { rows: [] } : { rows: (answer as pg.QueryResult).rows };
    },
  });
  return {
    config,
    place: where.place,
    query: (text, values = []) => withClient(async (client) => (await client.query(text, [...values])).rows as never),
    asked: { executeSql: (text, values) => withClient((client) => askedOn(client).executeSql(text, values)) },
    together: (work) =>
      withClient(async (client) => {
        await client.query('begin');
        const found = await work(askedOn(client));
        await client.query('commit');
        return found;
      }),
    close: () => pool.end(),
  };
}

/** PostgreSQL, appendix A: what is said of a statement has five characters; classes 08, 28, 57P, 53 and 3D speak of the connection. */
export function faultOf(place: string, error: unknown): unknown {
  if (!(error instanceof Error)) return error;
  const code = 'code' in error ? String(error.code) : '';
  if (/^(08|28|3D|53|57P)/u.test(code) || /^(E[A-Z_]{3,})$/u.test(code)) return storeUnreachable(place, error);
  if (/^[0-9A-Z]{5}$/u.test(code)) return storeUnwell(place, error);
  // The library that talks to the server has no codes for these.
  return /^Connection terminated|timeout exceeded when trying to connect/u.test(error.message)
    ? storeUnreachable(place, error)
    : error;
}
