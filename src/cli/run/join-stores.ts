// The latest run of each store → one run of another store, with its causes found over all samples together.
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import { readTokens } from '../../config/read-tokens.ts';
import { openLedger } from '../../ledger/ledger.ts';
import type { StorePlace } from '../../ledger/store-at.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { RunSummary } from '../../ledger/records.ts';
import type { Configuration, Page } from '../../plan/configuration.ts';
import { needRun } from '../choose-run.ts';
import { closeRun } from './close-run.ts';

/** @returns the joined run; its id is that of the first part @throws parts-do-not-fit … */
export async function joinStores(from: {
  readonly configuration: Configuration;
  readonly store: StorePlace;
  readonly parts: readonly string[];
  readonly signal: AbortSignal;
  readonly now: () => Date;
}): Promise<RunSummary> {
  const { configuration } = from;
  await using ledger = await openLedger(from.store, { access: 'own', doing: 'join', signal: from.signal });
  const opened: Ledger[] = [];
  try {
    const parts: { readonly ledger: Ledger; readonly run: string }[] = [];
    for (const folder of from.parts) {
      const part = await openLedger(folder, { access: 'read' });
      opened.push(part);
      parts.push({ ledger: part, run: needRun(await part.latestRun()).id });
    }
    const id = parts[0]?.run ?? '';
    await ledger.join(parts, id);
    await closeRun({
      ledger,
      run: id,
      configuration,
      tokens: readTokens(configuration),
      pages: await pagesOf(configuration, from.signal),
      today: from.now().toISOString().slice(0, 10),
      now: from.now,
      cut: false,
    });
    return await ledger.run(id);
  } finally {
    for (const part of opened.reverse()) await part.close();
  }
}

/** Pages tell owners; where they are found at run time, the app is asked again. */
async function pagesOf(configuration: Configuration, signal: AbortSignal): Promise<readonly Page[]> {
  if (configuration.pages.kind === 'list') return configuration.pages.pages;
  const app = await openApp(configuration.app, signal);
  try {
    return await discoverPages(configuration.pages, app.origin, signal);
  } finally {
    await app.close();
  }
}
