// Stores groups with a few pictures that come and go, or prunes, over and over. Arguments: place as JSON, `store` and a page, or `prune`;
// how many times (prune: until it is killed). Whoever stores reads back what it stored and prints one JSON line in the end.
import { setTimeout as pause } from 'node:timers/promises';
import { GloamError } from '../../../src/errors/gloam-error.ts';
import { openLedger } from '../../../src/ledger/ledger.ts';
import type { StorePlace } from '../../../src/ledger/store-at.ts';
import { captured, flatPng, planOf } from '../synthetic-run.ts';

const [place = '', what = '', page = '', times = '0'] = process.argv.slice(2);
await using ledger = await openLedger(JSON.parse(place) as StorePlace, { access: 'share', doing: what });

async function storeOver(): Promise<void> {
  const told = { stored: 0, anew: 0, lost: 0 };
  const [view] = planOf([page]);
  if (view === undefined) throw new Error('the plan has views');
  for (let n = 0; n < Number(times); n += 1) {
    const kept = await ledger.keepView(captured(view, { shot: flatPng(n % 5, 30, 60) }));
    await pause(Math.random() * 8);
    try {
      await ledger.storeGroup('n1', { views: [kept], comparisons: [], findings: [{ view, findings: [] }] }, () =>
        Promise.resolve(true),
      );
      told.stored += 1;
    } catch (error) {
      if (!(error instanceof GloamError && error.code === 'blob-missing')) throw error;
      told.anew += 1;
      continue;
    }
    // It is named by now, so nobody may take it.
    const { shot } = await ledger.view('n1', view.id);
    await ledger.blob(shot ?? '').catch(() => (told.lost += 1));
  }
  process.stdout.write(`${JSON.stringify(told)}\n`);
}

if (what === 'store') await storeOver();
else
  for (;;) {
    const { blobs } = await ledger.prune({ keep: 1, graceMs: 1 });
    process.stdout.write(`pruned ${String(blobs)}\n`);
  }
