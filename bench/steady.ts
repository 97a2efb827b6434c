// Nights on the unchanged demo app, each into a store of its own so that nothing is taken over: how many different pictures, lists of
// samples, of findings and of causes there are. One of each is wanted.
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { openLedger } from '../src/ledger/ledger.ts';
import { runHarbour } from './harbour-night.ts';

/** A month of working days, nearly. */
const NIGHTS = 20;

export async function steady(): Promise<void> {
  const nights = Number(process.env['GLOAM_NIGHTS'] ?? NIGHTS);
  const seen = new Map<string, Set<string>>();
  const note = (what: string, value: unknown): void => {
    const hash = createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 12);
    seen.set(what, (seen.get(what) ?? new Set()).add(hash));
  };
  for (let night = 1; night <= nights; night += 1) {
    const store = mkdtempSync(path.join(tmpdir(), 'gloam-steady-'));
    await runHarbour(store);
    await using ledger = await openLedger(store, { access: 'read' });
    const run = (await ledger.runs())[0]?.id ?? '';
    for (let after: string | null | undefined; after !== null;) {
      const slice = await ledger.views(run, { limit: 100, ...(after === undefined ? {} : { after }) });
      for (const view of slice.items) {
        note(`picture of ${view.id}`, view.shot);
        note(`samples of ${view.id}`, await ledger.samplesOf(run, view.id));
        note(`notes of ${view.id}`, view.notes);
      }
      after = slice.next;
    }
    note('findings', await findingsOf(ledger, run));
    note('causes', await ledger.causes(run));
    rmSync(store, { recursive: true, force: true });
    const odd = [...seen].filter(([, values]) => values.size > 1);
    console.log(
      `night ${night}: ${odd.length === 0 ? 'as all before' : odd.map(([what, { size }]) => `${size} ${what}`).join(', ')}`,
    );
  }
}

async function findingsOf(ledger: Awaited<ReturnType<typeof openLedger>>, run: string): Promise<readonly unknown[]> {
  const found: unknown[] = [];
  for (let after: string | null | undefined; after !== null;) {
    const slice = await ledger.findings(run, { limit: 500, ...(after === undefined ? {} : { after }) });
    found.push(...slice.items.map(({ since: _, ...finding }) => finding));
    after = slice.next;
  }
  return found;
}
