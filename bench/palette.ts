// The least change of a palette: on three made systems of eight themes whether every pair passes after it and what it moves beside the
// causes' own repairs; on a run of a million samples how long it takes, as a share of explaining the same run. The aim is 30 s.
// GLOAM_PALETTE_VIEWS sets the size of the large run.
import { openSolver } from '../src/cli/open-solver.ts';
import type { Palette } from '../src/palette/palette.ts';
import type { MadeSystem } from './made-run.ts';
import { LARGE, madeRun, TEXTS_A_VIEW } from './made-run.ts';
import type { Timed } from './made-palette.ts';
import { madePalette, withPalette } from './made-palette.ts';

/** Steps that are too light; tokens that point too near; both, where dark themes have steps of their own. */
const SYSTEMS: Readonly<Record<string, MadeSystem>> = {
  steps: { ramps: 9, tokens: 400, faultEvery: 0, faultyRampEvery: 3, ownSteps: 0 },
  aliases: { ramps: 7, tokens: 400, faultEvery: 9, faultyRampEvery: 0, ownSteps: 0 },
  both: { ramps: 8, tokens: 500, faultEvery: 11, faultyRampEvery: 4, ownSteps: 4 },
};
const VIEWS = 64;
const LARGE_VIEWS = Number(process.env['GLOAM_PALETTE_VIEWS'] ?? 4_000);

export async function palette(): Promise<void> {
  const solver = await openSolver();
  for (const [name, system] of Object.entries(SYSTEMS)) {
    const { palette: found, table, explainMs, paletteMs, heapMb } = madePalette(system, VIEWS, solver);
    const left = madeRun(system, VIEWS, withPalette(table, found)).findings().length;
    console.log(`${name}: ${shown(found)}; painted anew, ${left} of ${found.findings} findings are left`);
    console.log(`  ${timed({ explainMs, paletteMs, heapMb })}`);
  }
  const large = madePalette(LARGE, LARGE_VIEWS, solver);
  console.log(`${(LARGE_VIEWS * TEXTS_A_VIEW).toLocaleString('en')} samples: ${shown(large.palette)}`);
  console.log(`  ${timed(large)}`);
}

function shown({ changes, movement, mends, findings, unmet, elsewhere, outOfReach, oneByOne, gaveUp, breaks }: Palette): string {
  const unsaid = unmet.filter(({ against }) => against === null).length;
  const broken = breaks.reduce((sum, { places }) => sum + places, 0);
  return [
    `mends ${mends} of ${findings} findings (${elsewhere} lie elsewhere, ${outOfReach} out of reach), breaks ${broken}`,
    `${unmet.length} pairs unmet, ${unsaid} of them without a why`,
    `${changes.length} changes move ${movement.toFixed(3)}; the repairs one by one: ${oneByOne.changes} move ${oneByOne.movement.toFixed(3)}, mend ${oneByOne.mends}`,
    ...(gaveUp === undefined ? [] : [`gave up: ${gaveUp}`]),
  ].join('; ');
}

function timed({ explainMs, paletteMs, heapMb }: Timed): string {
  return `explaining ${(explainMs / 1000).toFixed(1)} s, the palette ${(paletteMs / 1000).toFixed(1)} s (${(paletteMs / explainMs).toFixed(2)}), heap ${heapMb.toFixed(0)} MB`;
}
