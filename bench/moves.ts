// The bench of the report on 100,000 samples and more: how long the page's worker takes to say what a change comes to, for 200 random ones.
// Aim: 100 ms at the 95th percentile. Needs a run of the demo app (`npm run demo -- --no-serve`), or of GLOAM_BENCH_STORE; its cases are
// repeated until they stand for enough samples.
import path from 'node:path';
import { benchSource } from '../src/cli/bench-source.ts';
import { readConfiguration } from '../src/config/read-configuration.ts';
import type { PackedCases } from '../src/forecast/packed-cases.ts';
import { unpackCases } from '../src/forecast/packed-cases.ts';
import { weighProposal } from '../src/forecast/weigh-proposal.ts';
import { openLedger } from '../src/ledger/ledger.ts';

const SAMPLES = 100_000;
const CHANGES = 200;
const SEED = 20261128;

export async function moves(): Promise<void> {
  const folder = path.resolve(import.meta.dirname, '..', '..', 'scenarios', 'harbour');
  const configuration = await readConfiguration({ folder });
  const store = process.env['GLOAM_BENCH_STORE'] ?? path.join(folder, '.gloam');
  await using ledger = await openLedger(store, { access: 'read' });
  const [newest] = await ledger.runs({ limit: 1, state: 'finished' });
  if (newest === undefined) throw new Error(`${store}: found no finished run`);
  const text = await benchSource(configuration, store).cases(newest.id);
  const packed = JSON.parse(text) as PackedCases;
  const times = Math.max(1, Math.ceil(SAMPLES / Math.max(1, packed.samples)));
  const world = unpackCases({
    ...packed,
    samples: packed.samples * times,
    cases: Array.from({ length: times }, () => packed.cases).flat(),
  });
  const { tokens, themes } = packed.table;
  let state = SEED;
  const below = (limit: number): number => {
    // Numerical Recipes' generator of 32 bits.
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * limit);
  };
  const took: number[] = [];
  let moved = 0;
  for (let at = -10; at < CHANGES; at += 1) {
    const token = tokens[below(tokens.length)]?.path ?? '';
    const theme = themes[below(themes.length)]?.name ?? '';
    const to = `#${[0, 1, 2].map(() => below(256).toString(16).padStart(2, '0')).join('')}`;
    const from = performance.now();
    const { mends, breaks } = weighProposal(world, [{ token, theme, to }]);
    if (at >= 0) took.push(performance.now() - from);
    moved += mends + breaks;
  }
  took.sort((one, other) => one - other);
  const quantile = (share: number): string => (took[Math.floor((took.length - 1) * share)] ?? NaN).toFixed(1);
  console.log(
    `${String(packed.samples * times)} samples in ${String(world.cases.length)} cases, ${String(CHANGES)} changes that move ${String(moved)} findings and places: ${quantile(0.5)} ms in the middle, ${quantile(0.95)} ms at the 95th percentile (aim: 100 ms), ${quantile(1)} ms at most`,
  );
}
