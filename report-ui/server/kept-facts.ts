// Samples of views by their keys, unpacked once for several questions.
import type { StoredView, ViewFacts } from '../../src/ledger/records.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { ServerContext } from './context.ts';

/** Views whose samples are kept unpacked: one page in up to this many themes. */
const KEPT = 16;

type Samples = ReadonlyMap<string, Sample>;

export function keptFacts({ ledger }: Pick<ServerContext, 'ledger'>): (run: string, view: StoredView) => Promise<Samples> {
  const kept = new Map<string, Promise<Samples>>();
  return (run, view) => {
    const name = `${run}\n${view.id}`;
    const known = kept.get(name);
    if (known !== undefined) return known;
    const samples = ledger.samplesOf(run, view.id).then(byKey);
    samples.catch(() => kept.delete(name));
    kept.set(name, samples);
    const [oldest] = kept.keys();
    if (kept.size > KEPT && oldest !== undefined) kept.delete(oldest);
    return samples;
  };
}

function byKey({ samples }: ViewFacts): Samples {
  return new Map(samples.map((sample) => [sample.key, sample]));
}
