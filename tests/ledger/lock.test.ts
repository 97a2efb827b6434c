import { readFile } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { StoreHolder } from '../../src/errors/ledger-errors.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { bundleChild, startChild } from './child-process.ts';
import { NIGHT_VIEWS } from './night.ts';
import { planOf, storeNight } from './synthetic-run.ts';
import { tempFolder } from './temp-folder.ts';

describe('two runs at once on one store', () => {
  let bundle: string;
  let nights: string;
  beforeAll(async () => {
    bundle = await bundleChild('hold-store');
    nights = await bundleChild('synthetic-night');
  });
  afterAll(async () => {
    await rm(bundle, { force: true });
    await rm(nights, { force: true });
  });

  test('the second is refused, told who holds the store', async () => {
    await using folder = await tempFolder();
    const first = startChild(bundle, [folder.path]);
    await first.line('held');
    const second = startChild(bundle, [folder.path]);
    await second.ended;
    const [line = ''] = second.lines;
    expect(line).toMatch(/^refused store-busy /);
    expect(line).toContain(`the store is held by process ${String(first.process.pid)} (run) since 20`);
    await expect(examineStore(folder.path, { mend: true, now: '2031-03-05T04:00:00.000Z' })).rejects.toMatchObject({
      code: 'store-busy',
    });
    first.process.kill('SIGTERM');
    expect((await first.ended).code).toBe(0);
  });

  test('the second waits when asked to, and goes on when the first ends', async () => {
    await using folder = await tempFolder();
    const first = startChild(bundle, [folder.path, '0', 'first']);
    await first.line('held');
    const second = startChild(bundle, [folder.path, '20000', 'second']);
    expect(await second.line('waiting')).toBe(`waiting for ${String(first.process.pid)} run`);
    first.process.kill('SIGTERM');
    await second.line('held');
    second.process.kill('SIGTERM');
    expect((await second.ended).code).toBe(0);
    await using ledger = await openLedger(folder.path, { access: 'read' });
    expect((await ledger.runs()).map((run) => run.id)).toEqual(['second', 'first']);
  });

  test('a holder that was killed holds nothing, though its note is still there', async () => {
    await using folder = await tempFolder();
    const first = startChild(bundle, [folder.path]);
    await first.line('held');
    first.process.kill('SIGKILL');
    await first.ended;
    expect(existsSync(join(folder.path, 'lock.json'))).toBe(true);
    await using ledger = await openLedger(folder.path, { access: 'own' });
    const note = JSON.parse(await readFile(join(folder.path, 'lock.json'), 'utf8')) as StoreHolder;
    expect(note.pid).toBe(process.pid);
    expect((await ledger.unfinished())?.run.id).toBe('held');
  });

  test('reading and accepting go on beside a run of another process', async () => {
    await using folder = await tempFolder();
    {
      await using ledger = await openLedger(folder.path, { access: 'own' });
      await storeNight(ledger, { run: { id: 'n1' } });
    }
    const run = startChild(nights, [folder.path, 'n2']);
    await using server = await openLedger(folder.path, { access: 'edit' });
    await using reader = await openLedger(folder.path, { access: 'read' });
    const [view] = planOf();
    let acts = 0;
    await run.line('begun');
    while (!run.lines.includes('finished') && acts < 2000) {
      acts += 1;
      await server.accept('n1', {
        set: `set-${String(acts)}`,
        who: 'designer',
        note: '',
        at: '2031-03-05T08:00:00Z',
        views: [view?.id ?? ''],
      });
      expect((await reader.findings('n1')).items).toHaveLength(8);
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect(await run.ended).toEqual({ code: 0, stderr: '' });
    expect(acts).toBeGreaterThan(1);
    expect(await reader.acceptances()).toHaveLength(acts);
    expect((await reader.views('n2', { status: 'captured' })).items).toHaveLength(NIGHT_VIEWS.length);
  });

  test('waiting ends when it is called off', async () => {
    await using folder = await tempFolder();
    await using holder = await openLedger(folder.path, { access: 'own' });
    const controller = new AbortController();
    const waiting = openLedger(folder.path, {
      access: 'own',
      waitMs: 60_000,
      signal: controller.signal,
      onWait: () => {
        controller.abort();
      },
    });
    await expect(waiting).rejects.toMatchObject({ name: 'AbortError' });
    expect(await holder.runs()).toEqual([]);
  });
});

describe('a ledger', () => {
  test('may be closed twice; a missing store is refused to readers and made for writers', async () => {
    await using folder = await tempFolder();
    const store = join(folder.path, 'deep', 'store');
    await expect(openLedger(store, { access: 'read' })).rejects.toMatchObject({ code: 'store-missing', data: { folder: store } });
    const ledger = await openLedger(store, { access: 'edit' });
    expect(await ledger.runs()).toEqual([]);
    await ledger.close();
    await ledger.close();
    await using again = await openLedger(store, { access: 'read' });
    expect(await again.latestRun()).toBeUndefined();
  });
});
