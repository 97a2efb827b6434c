// Whoever led a run was killed a moment ago: the database still counts its lead as held, and whoever takes the run up waits for the end of
// that. A run that somebody does lead is refused.
import { setTimeout as pause } from 'node:timers/promises';
import { expect, inject, test } from 'vitest';
import { sharedStore } from '../../src/cli/work/shared-store.ts';
import { takeUp } from '../../src/cli/work/take-up.ts';
import { WORK_FORMAT } from '../../src/cli/work/work-plan.ts';
import type { WorkPlan } from '../../src/cli/work/work-plan.ts';
import { openPgBossQueue } from '../../src/queue/pg-boss/pg-boss-queue.ts';
import type { WorkQueue } from '../../src/queue/work-queue.ts';
import { storeIn } from '../ledger/store-in.ts';
import { newRun } from '../ledger/synthetic-run.ts';
import { tempFolder } from '../ledger/temp-folder.ts';

const PLAN: WorkPlan = {
  format: WORK_FORMAT,
  machine: {
    gloam: '0.1.0',
    browser: 'chromium 156',
    fonts: { families: {}, picture: 'b' },
    configuration: 'a',
    files: {},
    app: null,
  },
  pages: [],
  sets: ['main'],
  today: '2031-03-04',
  anew: false,
};

test('the lead of a process that ended a moment ago is waited for', async () => {
  await using folder = await tempFolder();
  const place = storeIn(folder.path);
  if (typeof place === 'string') throw new TypeError('these tests need PostgreSQL');
  const signal = new AbortController().signal;
  const open = (who: string): Promise<WorkQueue> =>
    openPgBossQueue({ address: inject('postgres'), schema: place.schema, place: 'the tests', who });
  await using store = sharedStore(place, { doing: 'run', waitMs: 0, signal, onWait: () => undefined });
  await (await store.ledger()).beginRun(newRun({ id: 'n1' }));
  const before = await open('pier, process 1');
  await before.announce('n1', PLAN, [{ name: 'a', data: 0, weight: 1, withinS: 60 }]);
  expect(await before.lead('n1')).not.toBeNull();
  await using queue = await open('pier, process 2');
  const waits: string[] = [];
  const taking = takeUp(queue, store, PLAN, { signal, onWait: (run) => waits.push(run) });
  await expect.poll(() => waits).toEqual(['n1']);
  await pause(600);
  await before[Symbol.asyncDispose]();
  const taken = await taking;
  expect(taken).toMatchObject({ run: 'n1', plan: PLAN });
  expect(taken?.lead.isLost()).toBe(false);
  // One that goes on being led is refused in the end.
  await using third = await open('pier, process 3');
  await expect(takeUp(third, store, PLAN, { signal, onWait: () => undefined })).rejects.toMatchObject({ code: 'run-led' });
});
