// Places of one view of a stored run whose colours a proposal changes: what stands in front and what lies behind, before and after.
import type { ChangedLook } from '../../report-ui/api/bench.ts';
import { readTokens } from '../config/read-tokens.ts';
import { viewUnknown } from '../errors/ledger-errors.ts';
import type { ProposedChange } from '../forecast/proposal.ts';
import { tableUnder } from '../forecast/proposal.ts';
import { recolorView } from '../forecast/recolor-view.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import type { Sample } from '../samples/sample.ts';
import type { TokenMoves } from '../triage/recolor/token-recoloring.ts';
import { movesTo } from '../triage/recolor/token-recoloring.ts';
import { indexTable } from '../triage/tokens/table-index.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import { servedProperties, storedFacts, tableOfFiles } from './run/explain-run.ts';
import { openSeen } from './run/seen-run.ts';
import type { SeenRun } from './run/seen-run.ts';

export function movesOf(index: TableIndex, changes: readonly ProposedChange[]): TokenMoves {
  const after = indexTable(tableUnder(index, changes));
  return movesTo(index, (theme, token) => after.colorOf(theme, token));
}

export function openBenchLooks(
  configuration: Configuration,
  store: StorePlace,
): (run: string, view: string, changes: readonly ProposedChange[]) => Promise<readonly ChangedLook[]> {
  const kept = new Map<string, Promise<SeenRun | null>>();
  const seenOf = async (ledger: Ledger, run: string): Promise<SeenRun | null> => {
    const tokens = readTokens(configuration);
    if (tokens === null) return null;
    const facts = storedFacts(ledger, run);
    const views = await facts.views();
    return openSeen(indexTable(tableOfFiles(configuration, tokens)), await servedProperties(facts, views), async (use) => {
      for (const view of views) use(view, await facts.samplesOf(view.id));
    });
  };
  return async (run, id, changes) => {
    const ledger = await openLedger(store, { access: 'read' });
    try {
      const made = kept.get(run) ?? seenOf(ledger, run);
      kept.set(run, made);
      made.catch(() => kept.delete(run));
      const seen = await made;
      if (seen === null) return [];
      const view = (await storedFacts(ledger, run).views()).find((each) => each.id === id);
      if (view === undefined) throw viewUnknown(run, id);
      const { index, infer, readPaint, filters } = seen;
      const before = infer(view, (await ledger.samplesOf(run, id)).samples);
      const how = { theme: index.themeAt(view.theme), readPaint, moves: movesOf(index, changes), filters: filters.of(view.theme) };
      const { samples: after } = recolorView(before, how);
      return changedLooks(before, after);
    } finally {
      await ledger.close();
    }
  };
}

/** Large before small, so that what lies upon another is drawn after it. */
function changedLooks(before: readonly Sample[], after: readonly Sample[]): readonly ChangedLook[] {
  return before
    .flatMap((sample, at): ChangedLook[] => {
      const [was, is] = [lookOf(sample), lookOf(after[at])];
      if (was === null || is === null || sample.kind === 'picture') return [];
      if (was.fore === is.fore && was.back === is.back) return [];
      return [{ rect: [...sample.rect], kind: sample.kind, before: was, after: is }];
    })
    .toSorted((one, other) => other.rect[2] * other.rect[3] - one.rect[2] * one.rect[3]);
}

function lookOf(sample: Sample | undefined): ChangedLook['before'] | null {
  switch (sample?.kind) {
    case 'text':
      return { fore: sample.color, back: sample.background };
    case 'graphic':
      return { fore: sample.color, back: sample.against };
    case 'surface':
      return { fore: sample.color, back: sample.around };
    case 'shadow':
      return { fore: sample.color, back: sample.beneath };
    case 'picture':
    case undefined:
      return null;
  }
}
