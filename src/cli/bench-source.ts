// What the bench of the report needs: a run's cases, packed; a proposal as a patch of the token files, as colours of a view, as a picture
// of the live app; and work in a process of its own.
import type { ReportSources } from '../../report-ui/server/sources.ts';
import { readTokens } from '../config/read-tokens.ts';
import { packCases } from '../forecast/packed-cases.ts';
import { openLedger } from '../ledger/ledger.ts';
import type { StorePlace } from '../ledger/store-at.ts';
import type { Configuration } from '../plan/configuration.ts';
import { linePatch } from '../tokens/line-patch.ts';
import { filesUnder, readChanges } from './bench-changes.ts';
import { openBenchLooks } from './bench-looks.ts';
import { openBenchPictures } from './bench-pictures.ts';
import type { Reach } from './bench-pictures.ts';
import { openBenchWork } from './bench-work.ts';
import type { OwnCommand } from './bench-work.ts';
import { activeChecks, storedFacts, worldOfRun } from './run/explain-run.ts';

/** @param live how the app and this very command line are come by; without it nothing is started */
export function benchSource(
  configuration: Configuration,
  store: StorePlace,
  live?: Reach & OwnCommand,
): NonNullable<ReportSources['bench']> {
  // Every sample of the run is read for it.
  const kept = new Map<string, Promise<string>>();
  const pack = async (run: string): Promise<string> => {
    const ledger = await openLedger(store, { access: 'read' });
    try {
      const today = (await ledger.run(run)).startedAt.slice(0, 10);
      const tokens = readTokens(configuration);
      const world = await worldOfRun({ facts: storedFacts(ledger, run), configuration, tokens, pages: [], today });
      const checks = [...activeChecks(configuration)].map(([id, { options }]) => [id, options] as const);
      return JSON.stringify(packCases(world, checks));
    } finally {
      await ledger.close();
    }
  };
  const looks = openBenchLooks(configuration, store);
  return {
    cases: (run) => {
      const known = kept.get(run) ?? pack(run);
      kept.set(run, known);
      known.catch(() => kept.delete(run));
      return known;
    },
    patch: (changes) => {
      const { files, left } = filesUnder(configuration, readChanges(changes));
      return Promise.resolve({ patch: files.map(({ file, before, text }) => linePatch(file, before, text)).join(''), left });
    },
    looks: (run, view, changes) => looks(run, view, readChanges(changes)),
    ...(live === undefined
      ? {}
      : { picture: openBenchPictures(configuration, store, live), work: openBenchWork(configuration, store, live) }),
  };
}
