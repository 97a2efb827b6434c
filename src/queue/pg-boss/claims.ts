// What a process holds as long as it lives: locks of the database on one connection. When that breaks they are free, and are taken again
// as soon as the database answers.
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';

/** Between tries to reach the database again. */
const AGAIN_MS = 300;

export interface Claims {
  /** @param alone false: others may hold it as well @returns whether it is held */
  hold(name: string, how: { readonly alone: boolean }): Promise<boolean>;
  release(name: string): Promise<void>;
  /** It was not there any more when it was wanted back, or is not back yet. */
  isLost(name: string): boolean;
  /** May be called twice. */
  close(): Promise<void>;
}

interface Held {
  readonly alone: boolean;
  isHeld: boolean;
}

/** @param config of one connection */
export async function openClaims(config: pg.ClientConfig): Promise<Claims> {
  const held = new Map<string, Held>();
  let closed = false;
  let client: pg.Client | null = null;
  let again: Promise<void> | null = null;

  const connect = async (): Promise<pg.Client> => {
    const made = new pg.Client(config);
    const gone = (): void => {
      if (client === made) client = null;
      for (const claim of held.values()) claim.isHeld = false;
      if (!closed) again ??= reconnect();
    };
    made.on('error', gone);
    made.on('end', gone);
    await made.connect();
    // A machine that lost its power says nothing: the server finds out within half a minute.
    await made.query('set tcp_keepalives_idle = 10; set tcp_keepalives_interval = 5; set tcp_keepalives_count = 3');
    return made;
  };
  const reconnect = async (): Promise<void> => {
    while (!closed && client === null) {
      await pause(AGAIN_MS);
      try {
        client = await connect();
        for (const [name, claim] of held) claim.isHeld = await lock(client, name, claim.alone);
      } catch {
        client = null;
      }
    }
    again = null;
  };
  client = await connect();
  return {
    async hold(name, { alone }) {
      const claim: Held = { alone, isHeld: false };
      held.set(name, claim);
      try {
        if (client !== null) claim.isHeld = await lock(client, name, alone);
      } catch {
        // The connection broke: a shared lock is taken once it is back; one that only its holder may have was not got.
      }
      if (alone && !claim.isHeld) held.delete(name);
      return claim.isHeld || !alone;
    },
    async release(name) {
      const claim = held.get(name);
      held.delete(name);
      if (claim?.isHeld !== true || client === null) return;
      const free = claim.alone ? 'pg_advisory_unlock' : 'pg_advisory_unlock_shared';
      await client.query(`select ${free}(hashtextextended($1, 0))`, [name]).catch(() => undefined);
    },
    isLost: (name) => held.get(name)?.isHeld !== true,
    async close() {
      if (closed) return;
      closed = true;
      await client?.end().catch(() => undefined);
    },
  };
}

async function lock(client: pg.Client, name: string, alone: boolean): Promise<boolean> {
  const take = alone ? 'pg_try_advisory_lock' : 'pg_try_advisory_lock_shared';
  const { rows } = await client.query<{ readonly held: boolean }>(`select ${take}(hashtextextended($1, 0)) as held`, [name]);
  return rows[0]?.held === true;
}
