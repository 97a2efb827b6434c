// Pages on two CSS frameworks with dark themes: every repair that gloam prints is put into the style sheets alone, the pages are rendered
// again, and what went away is held against what was promised. A test puts all of them in at once (tests/cli/framework-repairs.test.ts).
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { openLedger } from '../src/ledger/ledger.ts';
import type { Cause, Finding } from '../src/samples/finding.ts';
import type { Framework } from './framework-app.ts';
import { FRAMEWORKS, fillWith, sheetsOf } from './framework-app.ts';
import { nightOn } from './harbour-night.ts';
import { putIn } from './put-in.ts';

interface Told {
  readonly findings: readonly Finding[];
  readonly causes: readonly Cause[];
}

export async function frameworks(): Promise<void> {
  let [kept, all] = [0, 0];
  for (const framework of FRAMEWORKS) {
    const app = pagesOn(framework);
    const before = await look(app);
    console.log(`${framework.name}: ${before.findings.length} findings, ${before.causes.length} causes`);
    for (const cause of before.causes) {
      const { repair } = cause;
      if (repair === undefined || repair.change === 'add') {
        console.log(`  –  ${cause.layer}: ${cause.why.slice(0, 100)}`);
        continue;
      }
      const changed = pagesOn(framework);
      const missed = putIn(sheetsOf(framework, changed), repair);
      const after = await look(changed);
      const left = new Set(after.findings.map(({ id }) => id));
      const known = new Set(before.findings.map(({ id }) => id));
      const own = before.findings.filter((finding) => finding.cause === cause.id);
      const mended = own.filter(({ id }) => !left.has(id)).length;
      const broken = after.findings.filter(({ id }) => !known.has(id));
      const holds = mended >= repair.fixes && broken.length <= repair.breaks && missed.length === 0;
      all += 1;
      if (holds) kept += 1;
      console.log(
        `  ${holds ? '+' : '!'}  mends ${mended} of ${repair.fixes}, breaks ${broken.length}: ${cause.why.slice(0, 100)}`,
      );
      for (const each of missed) console.log(`       not found: ${each.from} in ${each.of}`);
      for (const { selector, theme, message } of broken.slice(0, 3)) console.log(`       ${theme} ${selector}: ${message}`);
      rmSync(changed, { recursive: true, force: true });
    }
    rmSync(app, { recursive: true, force: true });
  }
  console.log(`${kept} of ${all} repairs do what they say`);
}

function pagesOn(framework: Framework): string {
  const folder = mkdtempSync(path.join(tmpdir(), `gloam-on-${framework.name}-`));
  fillWith(framework, folder);
  return folder;
}

async function look(folder: string): Promise<Told> {
  const store = path.join(folder, '.gloam');
  await nightOn(path.join(folder, 'gloam.config.json'), store);
  await using ledger = await openLedger(store, { access: 'read' });
  const run = (await ledger.latestRun())?.id ?? '';
  const { items } = await ledger.findings(run, { limit: 500 });
  return { findings: items, causes: await ledger.causes(run) };
}
