// Two report servers, as processes, on one store in PostgreSQL: a run under way is seen by both, what is accepted at one is seen at the
// other, at once and in its events.
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { postgresPrograms, startCluster } from '../../bench/cluster.ts';
import type { Cluster } from '../../bench/cluster.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { StorePlace } from '../../src/ledger/store-at.ts';
import { captured, newRun, planOf, storeNight } from '../ledger/synthetic-run.ts';
import { quayApp, start } from './gloam.ts';
import type { Started } from './gloam.ts';

const PROGRAMS = postgresPrograms();

interface Listening {
  readonly events: readonly { readonly kind: string; readonly run?: string; readonly captured?: number }[];
  readonly stop: () => void;
}

async function listen(url: string): Promise<Listening> {
  const events: Listening['events'][number][] = [];
  const ending = new AbortController();
  const answer = await fetch(new URL('api/events', url), { signal: ending.signal });
  const read = async (): Promise<void> => {
    let rest = '';
    for await (const chunk of answer.body ?? []) {
      rest += new TextDecoder().decode(chunk);
      const parts = rest.split('\n\n');
      rest = parts.pop() ?? '';
      for (const part of parts)
        if (part.startsWith('data: ')) events.push(JSON.parse(part.slice(6)) as Listening['events'][number]);
    }
  };
  read().catch(() => undefined);
  return {
    events,
    stop: () => {
      ending.abort();
    },
  };
}

describe.skipIf(PROGRAMS === null)('two servers on one store', { timeout: 120_000 }, () => {
  let cluster: Cluster;
  const servers: Started[] = [];
  const urls: string[] = [];
  let folder: string;
  let place: Exclude<StorePlace, string>;
  beforeAll(async () => {
    cluster = await startCluster(PROGRAMS ?? '');
    folder = quayApp();
    place = {
      address: cluster.address,
      schema: 'quay',
      folder: path.join(folder, '.gloam'),
      blobs: path.join(folder, 'shared', 'quay'),
    };
    await using ledger = await openLedger(place, { access: 'own' });
    await storeNight(ledger, { run: { id: 'n1' } });
    const env = { GLOAM_STORE: `${cluster.address}?schema=quay`, GLOAM_BLOBS: path.join(folder, 'shared') };
    for (let n = 0; n < 2; n += 1) servers.push(start(folder, ['serve', '--port', '0'], env));
    for (const server of servers) urls.push(/http:\S+/u.exec(await server.printed(/http:\/\/\S+\n/u))?.[0] ?? '');
  });
  afterAll(async () => {
    for (const server of servers) server.kill('SIGTERM');
    await Promise.all(servers.map(({ ended }) => ended));
    await cluster[Symbol.asyncDispose]();
  });

  const asked = async <T>(url: string, what: string, init: RequestInit = {}): Promise<T> =>
    (await (await fetch(new URL(what, url), init)).json()) as T;

  test('a run under way is told by both, and shown by both once it is over', async () => {
    const heard = await Promise.all(urls.map(listen));
    await using ledger = await openLedger(place, { access: 'share' });
    const views = planOf();
    await ledger.beginRun(newRun({ id: 'n2', startedAt: '2031-03-05T02:00:00.000Z', views }));
    for (const [at, view] of views.entries()) {
      await ledger.storeGroup(
        'n2',
        { views: [await ledger.keepView(captured(view))], comparisons: [], findings: [{ view, findings: [] }] },
        () => Promise.resolve(true),
      );
      if (at !== 2) continue;
      for (const { events } of heard)
        await expect.poll(() => events.findLast(({ kind }) => kind === 'progress')).toMatchObject({ run: 'n2', captured: 3 });
    }
    await ledger.finishRun('n2', '2031-03-05T03:00:00.000Z');
    for (const { events } of heard) await expect.poll(() => events.at(-1)).toEqual({ kind: 'finished', run: 'n2' });
    for (const url of urls) expect(await asked<{ newest: string }>(url, 'api/session')).toMatchObject({ newest: 'n2' });
    for (const { stop } of heard) stop();
  });

  test('what is accepted at one is accepted at the other, which is told', async () => {
    const [one = '', other = ''] = urls;
    const heard = await listen(other);
    const before = await asked<{ total: number; accepted: number }>(other, 'api/runs/n2/change-groups');
    expect(before).toMatchObject({ accepted: 0, total: 8 });
    const { token } = await asked<{ token: string }>(one, 'api/session');
    const body = JSON.stringify({ run: 'n2', what: { kind: 'all' }, note: 'as meant' });
    const headers = { 'content-type': 'application/json', 'x-gloam-token': token };
    expect(await asked(one, 'api/accept', { method: 'POST', headers, body })).toMatchObject({ views: 8 });
    expect(await asked(other, 'api/runs/n2/change-groups')).toMatchObject({ accepted: 8, total: 0 });
    await expect.poll(() => heard.events.map(({ kind }) => kind)).toContain('accepted');
    heard.stop();
  });
});
