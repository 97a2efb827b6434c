// The worker of the bench: opens the cases of a run once, then weighs proposals by the same sums and checks as triage.
import type { PackedCases } from '../../../src/forecast/packed-cases.ts';
import { unpackCases } from '../../../src/forecast/packed-cases.ts';
import { lightnessBand, weighProposal } from '../../../src/forecast/weigh-proposal.ts';
import type { World } from '../../../src/triage/world.ts';
import type { FromWorker, ToWorker } from './bench-messages.ts';

let world: World | null = null;

function answer(message: FromWorker): void {
  postMessage(message);
}

addEventListener('message', ({ data }: MessageEvent<ToWorker>) => {
  if (data.kind === 'open') {
    // The server of the same version wrote it.
    const packed = JSON.parse(data.packed) as PackedCases;
    world = unpackCases(packed);
    answer({ kind: 'opened', table: packed.table, samples: packed.samples, cases: packed.cases.length, views: packed.views });
    return;
  }
  if (world === null) return;
  if (data.kind !== 'band') {
    const begun = performance.now();
    const weighed = weighProposal(world, data.changes);
    const kind = data.kind === 'other' ? 'other' : 'weighed';
    answer({ kind, id: data.id, weighed, tookMs: performance.now() - begun });
    return;
  }
  answer({ kind: 'band', id: data.id, band: lightnessBand(world, data.changes, data.at) });
});
