// How long a large run takes where many workers share it, from the times of a real one: 500 pages × 8 themes × 5 states × 2 viewports.
// Needs a run of the demo app (`npm run demo -- --no-serve`), or of GLOAM_BENCH_STORE: a folder, or the address of a database. Pages are
// drawn from those of the run, each view from the views of its page. Expected is what one night took, taken what another one did.
import path from 'node:path';
import { storePlace } from '../src/cli/store-place.ts';
import { readAll } from '../src/gate/read-all.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import { simulateWork } from '../src/plan/simulate-work.ts';
import type { GroupTime } from '../src/plan/simulate-work.ts';

const PAGES = 500;
const VIEWPORTS = 2;
/** 8 themes × 5 states. */
const VIEWS_OF_A_GROUP = 40;
const WORKERS = [1, 2, 4, 10, 16, 32, 64, 128];
/** Asking for a group and saying that it is done: 140 ms in the middle of 100 (measured on two cores that were wanted by seven times as many). */
const HAND_OVER_MS = 150;
const SEED = 20261128;

export async function share(): Promise<void> {
  const folder = path.resolve(import.meta.dirname, '..', '..', 'scenarios', 'harbour');
  const place = await storePlace({
    option: process.env['GLOAM_BENCH_STORE'] ?? path.join(folder, '.gloam'),
    env: process.env,
    cwd: process.cwd(),
    configured: () => Promise.resolve({ folder }),
  });
  await using ledger = await openLedger(place, { access: 'read' });
  const [newest] = await ledger.runs({ state: 'finished', limit: 1 });
  if (newest === undefined) throw new Error('found no finished run; npm run demo -- --no-serve makes one');
  const views = await readAll((slice) => ledger.views(newest.id, { status: 'captured', ...slice }));
  const byPage = new Map<string, number[]>();
  for (const { page, ms } of views) byPage.set(page, [...(byPage.get(page) ?? []), ms ?? 0]);
  const pages = [...byPage.values()];
  let state = SEED;
  const below = (limit: number): number => {
    // Numerical Recipes' generator of 32 bits.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * limit);
  };
  const drawn = (page: readonly number[]): number =>
    Array.from({ length: VIEWS_OF_A_GROUP }, () => page[below(page.length)] ?? 0).reduce((sum, ms) => sum + ms, 0);
  const groups = Array.from({ length: PAGES * VIEWPORTS }, (): GroupTime => {
    const page = pages[below(pages.length)] ?? [];
    return { expectedMs: drawn(page), tookMs: drawn(page) };
  });
  const sum = groups.reduce((all, { tookMs }) => all + tookMs, 0);
  const count = groups.length * VIEWS_OF_A_GROUP;
  const longest = Math.max(...groups.map(({ tookMs }) => tookMs));
  console.log(
    `${String(count)} views in ${String(groups.length)} groups: ${(sum / count).toFixed(0)} ms a view, ${(sum / groups.length / 1000).toFixed(1)} s a group, the longest ${(longest / 1000).toFixed(1)} s (times of ${String(views.length)} views of run ${newest.id})`,
  );
  console.log('workers    ideal      run   over ideal   idle   tail | in the order of the plan: over ideal   tail');
  for (const workers of WORKERS) {
    const shared = simulateWork(groups, { workers, handOverMs: HAND_OVER_MS, order: 'longest-first' });
    const planned = simulateWork(groups, { workers, handOverMs: HAND_OVER_MS, order: 'as-planned' });
    const over = ({ spanMs, idealMs }: typeof shared): string => `${((spanMs / idealMs - 1) * 100).toFixed(1)} %`;
    const seconds = (ms: number): string => `${(ms / 1000).toFixed(0)} s`;
    console.log(
      [
        String(workers).padStart(7),
        seconds(shared.idealMs).padStart(9),
        seconds(shared.spanMs).padStart(9),
        over(shared).padStart(12),
        `${(shared.idleShare * 100).toFixed(1)} %`.padStart(8),
        seconds(shared.tailMs).padStart(7),
        over(planned).padStart(40),
        seconds(planned.tailMs).padStart(7),
      ].join(''),
    );
  }
}
