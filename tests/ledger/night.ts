// The run that is killed and resumed: enough views to be killed between, each with findings of its own.
import type { Ledger } from '../../src/ledger/ledger.ts';
import type { FindingEntry } from '../../src/ledger/records.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, cause, draft, entry, planOf, textSample } from './synthetic-run.ts';

export const NIGHT_VIEWS: readonly View[] = planOf([
  'station-list',
  'station-detail',
  'tide-table',
  'alarm-log',
  'berth-form',
  'help',
]);

const places = (view: View): readonly number[] => Array.from({ length: 20 + (view.id.length % 7) }, (_, place) => place);
const samplesOf = (view: View) => places(view).map((place) => textSample(view.id, place, { text: `${view.id} ${String(place)}` }));
const findingsOf = (view: View): readonly FindingEntry[] =>
  view.theme === 'dusk' ? places(view).map((place) => entry(view, draft(place))) : [];

/** Does what the run still owes, as a resumed run does. @param say is told each thing that is stored */
export async function goOn(ledger: Ledger, id: string, say: (line: string) => void): Promise<void> {
  const owed = await ledger.unfinished(id);
  for (const view of owed?.missing ?? []) {
    await ledger.storeView(id, captured(view, { samples: samplesOf(view) }));
    say(`view ${view.id}`);
    await ledger.storeFindings(id, [{ view, findings: findingsOf(view) }]);
    say(`findings ${view.id}`);
  }
  for (const view of owed?.unchecked ?? []) {
    await ledger.storeFindings(id, [{ view, findings: findingsOf(view) }]);
    say(`findings ${view.id}`);
  }
  const { items } = await ledger.findings(id, { limit: 1000 });
  await ledger.storeCauses(id, [
    { cause: cause('quiet'), findings: items.filter((_, at) => at % 2 === 0).map((finding) => finding.id) },
  ]);
  await ledger.storeCoverage(id, [{ page: 'help', theme: 'dusk', uses: 10, throughTokens: 9 }]);
  await ledger.finishRun(id, '2031-03-05T03:00:00.000Z');
}
