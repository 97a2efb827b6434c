// Nights on an unchanged app, each into a store of its own so that nothing is taken over: how many different pictures, lists of samples, of
// findings and of causes there are. One of each is wanted. On the demo app, one big page, pages of two CSS frameworks; `GLOAM_SUBJECTS=Pico`
// for one of them, `GLOAM_NIGHTS=5` for a quick look.
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { allOf } from '../src/ledger/database/cursor.ts';
import { openLedger } from '../src/ledger/ledger.ts';
import { nightOn } from './harbour-night.ts';
import { subjects } from './subjects.ts';

/** A month of working days, nearly. */
const NIGHTS = 20;

export async function steady(): Promise<void> {
  const wanted = process.env['GLOAM_SUBJECTS']?.split(',');
  for (const subject of subjects()) {
    if (wanted !== undefined && !wanted.includes(subject.name)) continue;
    const folder = mkdtempSync(path.join(tmpdir(), 'gloam-steady-'));
    try {
      subject.fill(folder);
      await nightsOn(subject.name, folder);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  }
}

async function nightsOn(name: string, folder: string): Promise<void> {
  const nights = Number(process.env['GLOAM_NIGHTS'] ?? NIGHTS);
  const seen = new Map<string, Set<string>>();
  const note = (what: string, value: unknown): void => {
    const hash = createHash('sha256').update(JSON.stringify(value)).digest('hex').slice(0, 12);
    seen.set(what, (seen.get(what) ?? new Set()).add(hash));
  };
  for (let night = 1; night <= nights; night += 1) {
    const store = path.join(folder, `store-${String(night)}`);
    await nightOn(path.join(folder, 'gloam.config.json'), store);
    await using ledger = await openLedger(store, { access: 'read' });
    const run = (await ledger.runs())[0]?.id ?? '';
    for await (const view of allOf((request) => ledger.views(run, request))) {
      note(`picture of ${view.id}`, view.shot);
      note(`samples of ${view.id}`, await ledger.samplesOf(run, view.id));
      note(`notes of ${view.id}`, view.notes);
    }
    const findings = [];
    for await (const finding of allOf((request) => ledger.findings(run, request))) findings.push({ ...finding, since: undefined });
    note('findings', findings);
    note('causes', await ledger.causes(run));
    rmSync(store, { recursive: true, force: true });
    const odd = [...seen].filter(([, values]) => values.size > 1);
    console.log(
      `${name}, night ${night}: ${odd.length === 0 ? 'as all before' : odd.map(([what, { size }]) => `${size} ${what}`).join(', ')}`,
    );
  }
}
