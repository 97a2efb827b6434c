import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { databaseFaults } from '../../src/ledger/sqlite/mend-database.ts';
import { examineStore } from '../../src/ledger/care/doctor.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import { bundleChild, startChild } from './child-process.ts';
import { exported } from './exported.ts';
import { goOn, NIGHT_VIEWS } from './night.ts';
import { newRun } from './synthetic-run.ts';
import { type TempFolder, tempFolder } from './temp-folder.ts';

/** At least 30 kills; `GLOAM_LONG=1` asks for ten times as many. */
const KILLS = process.env['GLOAM_LONG'] === undefined ? 32 : 320;
const SEED = Number(process.env['GLOAM_SEED'] ?? Date.now() % 1_000_000);

/** Park and Miller's generator ("Random number generators: good ones are hard to find", 1988). @returns 0–1 */
function randomFrom(seed: number): () => number {
  let state = (seed % 2147483646) + 1;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

describe('a run killed with SIGKILL at any moment', () => {
  let bundle: string;
  let folder: TempFolder;
  let undisturbed: Readonly<Record<string, string>>;

  beforeAll(async () => {
    bundle = await bundleChild('synthetic-night');
    folder = await tempFolder();
    await using ledger = await openLedger(join(folder.path, 'whole'), { access: 'own' });
    for (const id of ['n1', 'n2']) {
      await ledger.beginRun(newRun({ id, views: NIGHT_VIEWS }));
      await goOn(ledger, id, () => undefined);
    }
    undisturbed = await exported(ledger, 'n2', join(folder.path, 'out-whole'));
  });
  afterAll(async () => {
    await rm(bundle, { force: true });
    await folder[Symbol.asyncDispose]();
  });

  test(
    `leaves a store that opens, loses nothing that was stored, and is resumed to the run it would have been (${String(KILLS)} kills)`,
    { timeout: KILLS * 10_000 },
    async () => {
      console.log(`seed ${String(SEED)} (GLOAM_SEED repeats it)`);
      const random = randomFrom(SEED);
      let kills = 0;
      for (let round = 0; kills < KILLS; round += 1) {
        const store = join(folder.path, `round-${String(round)}`);
        {
          await using ledger = await openLedger(store, { access: 'own' });
          await ledger.beginRun(newRun({ id: 'n1', views: NIGHT_VIEWS }));
          await goOn(ledger, 'n1', () => undefined);
        }
        const stored = new Set<string>();
        // A night takes some 0.3 s from its first line on; kills lie within and a little beyond.
        let whole = false;
        while (!whole && kills < KILLS) {
          const child = startChild(bundle, [store, 'n2']);
          await child.line('started');
          await pause(random() * 250);
          const killed = child.process.kill('SIGKILL');
          const { code, stderr } = await child.ended;
          for (const line of child.lines) stored.add(line);
          if (code === null && killed) kills += 1;
          else expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
          whole = stored.has('finished');
          await expectStored(store, stored);
        }
        await using ledger = await openLedger(store, { access: 'own' });
        const [latest] = await ledger.runs({ limit: 1 });
        if (latest?.id !== 'n2') await ledger.beginRun(newRun({ id: 'n2', views: NIGHT_VIEWS }));
        if (latest?.state === 'running' || latest?.id !== 'n2') await goOn(ledger, 'n2', () => undefined);
        expect(await exported(ledger, 'n2', join(folder.path, `out-${String(round)}`))).toEqual(undisturbed);
      }
      expect(kills).toBeGreaterThanOrEqual(KILLS);
    },
  );

  async function expectStored(store: string, stored: ReadonlySet<string>): Promise<void> {
    expect(databaseFaults(join(store, 'ledger.sqlite'))).toEqual([]);
    // The doctor finds nothing wrong but files that had no row yet.
    const health = await examineStore(store, { mend: false, now: '2031-03-05T04:00:00.000Z' });
    expect(health.faults.filter((fault) => fault.kind !== 'unknown-file')).toEqual([]);
    await using ledger = await openLedger(store, { access: 'own' });
    for (const line of stored) {
      const [what, id = ''] = line.split(' ');
      if (what === 'begun') expect((await ledger.run('n2')).id).toBe('n2');
      if (what === 'view') {
        const view = await ledger.view('n2', id);
        expect(view).toMatchObject({ status: 'captured' });
        expect((await ledger.samplesOf('n2', id)).samples.length).toBeGreaterThanOrEqual(20);
        expect((await ledger.blob(view.shot ?? '')).length).toBeGreaterThan(0);
      }
      if (what === 'findings') expect((await ledger.view('n2', id)).checked).toBe(true);
      if (what === 'finished') expect((await ledger.run('n2')).state).toBe('finished');
    }
  }
});
