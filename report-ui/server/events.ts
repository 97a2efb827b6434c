// Server-sent events: how far a run is, that one has ended, that pictures were accepted. The store is looked at only while somebody listens.
import type { FastifyInstance, FastifyReply } from 'fastify';
import type { LiveEvent } from '../api/live.ts';
import { requestRefused } from '../../src/errors/server-errors.ts';
import type { Baselines, RunReader } from '../../src/ledger/ports.ts';

const LOOK_EVERY_MS = 1_000;
/** A comment line now and then keeps connections through proxies alive. */
const BREATHE_EVERY_MS = 20_000;
const MOST_LISTENERS = 50;

export interface Events {
  readonly tell: (event: LiveEvent) => void;
}

export function eventRoutes(app: FastifyInstance, ledger: RunReader & Pick<Baselines, 'acceptanceMark'>): Events {
  const listeners = new Set<FastifyReply['raw']>();
  let timers: readonly NodeJS.Timeout[] = [];
  let running: string | null = null;
  let mark: string | null = null;

  const tell = (event: LiveEvent): void => {
    for (const listener of listeners) listener.write(`data: ${JSON.stringify(event)}\n\n`);
  };
  const look = async (): Promise<void> => {
    // By whichever server of the store, or by a command.
    const before = mark;
    mark = await ledger.acceptanceMark();
    if (before !== null && before !== mark) tell({ kind: 'accepted' });
    const [newest] = await ledger.runs({ limit: 1 });
    if (running !== null && (newest?.id !== running || newest.state === 'finished')) {
      tell({ kind: 'finished', run: running });
      running = null;
    }
    if (newest?.state !== 'running') return;
    running = newest.id;
    tell({ kind: 'progress', run: newest.id, ...(await progressOf(ledger, newest.id)) });
  };
  let looking = false;
  const lookOnce = (): void => {
    if (looking) return;
    looking = true;
    look()
      .catch(() => undefined) // the store may be busy this second; the next look tells
      .finally(() => {
        looking = false;
      });
  };
  const start = (): void => {
    if (timers.length > 0) return;
    timers = [
      setInterval(lookOnce, LOOK_EVERY_MS),
      setInterval(() => {
        for (const listener of listeners) listener.write(': \n\n');
      }, BREATHE_EVERY_MS),
    ];
    lookOnce();
  };
  const stop = (): void => {
    for (const timer of timers) clearInterval(timer);
    timers = [];
    // What comes in while nobody listens is seen by whoever opens a page.
    mark = null;
  };

  app.get('/api/events', async (_request, reply) => {
    if (listeners.size >= MOST_LISTENERS) throw requestRefused('Too many pages listen already.', 'Close some of them.');
    // Whatever is accepted from now on is told.
    mark ??= await ledger.acceptanceMark().catch(() => null);
    reply.hijack();
    const headers = Object.entries(reply.getHeaders()).flatMap(([name, value]) =>
      value === undefined ? [] : [[name, value] as const],
    );
    reply.raw.writeHead(200, {
      ...Object.fromEntries(headers),
      'content-type': 'text/event-stream',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    });
    reply.raw.write(': \n\n');
    listeners.add(reply.raw);
    reply.raw.on('close', () => {
      listeners.delete(reply.raw);
      if (listeners.size === 0) stop();
    });
    start();
  });
  app.addHook('preClose', () => {
    stop();
    for (const listener of listeners) listener.end();
    listeners.clear();
    return Promise.resolve();
  });
  return { tell };
}

async function progressOf(
  ledger: RunReader,
  run: string,
): Promise<{ readonly captured: number; readonly failed: number; readonly planned: number }> {
  const count = async (status?: 'captured' | 'failed'): Promise<number> => {
    let sum = 0;
    let after: string | undefined;
    do {
      const slice = await ledger.views(run, {
        limit: 1_000,
        ...(status === undefined ? {} : { status }),
        ...(after === undefined ? {} : { after }),
      });
      sum += slice.items.length;
      after = slice.next ?? undefined;
    } while (after !== undefined);
    return sum;
  };
  return { captured: await count('captured'), failed: await count('failed'), planned: await count() };
}
