// The least change of the palette under which every measured pair of a stored run passes; what it does to the token files; and the same
// on the live pages.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { readTokens } from '../../config/read-tokens.ts';
import type { Palette, PaletteOptions, WorkedOut } from '../../palette/palette.ts';
import { workOutPalette } from '../../palette/palette.ts';
import { paletteProperties } from '../../palette/wear-palette.ts';
import { evaluate } from '../../triage/choose/evaluate.ts';
import { recoloringUnder } from '../../palette/assignment.ts';
import { checkTokens } from '../../tokens/faults/check-tokens.ts';
import type { TokenFault } from '../../tokens/faults/token-fault.ts';
import { compareTry } from '../../triage/try-out.ts';
import type { TryOutcome } from '../../triage/try-out.ts';
import type { World } from '../../triage/world.ts';
import type { Configuration } from '../../plan/configuration.ts';
import { openSolver } from '../open-solver.ts';
import { explainRun, storedFacts } from './explain-run.ts';
import type { WornFrom } from './render-worn.ts';
import type { RewrittenFile } from './rewrite-tokens.ts';
import { rewriteTokens } from './rewrite-tokens.ts';
import { renderWorn, wearing } from './render-worn.ts';

export interface Retuned {
  readonly palette: Palette;
  /** Token files as they would be; empty for an app without. */
  readonly files: readonly RewrittenFile[];
  /** Changes that no token file holds, in words. */
  readonly left: readonly string[];
  /** What `gloam tokens` would say that it does not say now. */
  readonly tokenFaults: readonly TokenFault[];
}

/** @throws GloamError where the run, the configuration or the token files cannot be read */
export async function retuneRun(
  from: Pick<WornFrom, 'ledger' | 'run' | 'configuration'>,
  options: PaletteOptions,
): Promise<Retuned> {
  const { ledger, run, configuration } = from;
  const tokens = readTokens(configuration);
  // Exempt is what was so on that night.
  const today = (await ledger.run(run)).startedAt.slice(0, 10);
  const { triaged } = await explainRun({ facts: storedFacts(ledger, run), configuration, tokens, pages: [], today });
  const worked = workOutPalette(triaged.ground, triaged.causes, await openSolver(), options);
  const { files, left } = tokens === null ? { files: [], left: [] } : rewritten(triaged.ground.world, worked, configuration);
  return { palette: worked.palette, files, left, tokenFaults: tokens === null ? [] : newTokenFaults(configuration, files) };
}

/** The palette on the live pages: what was promised against what is measured there. */
export async function tryRetune(
  from: WornFrom,
  options: PaletteOptions,
): Promise<{ readonly outcome: TryOutcome | null; readonly views: number }> {
  const solver = await openSolver();
  const tried = await renderWorn(from, ({ triaged, findings, plan }) => {
    const { world } = triaged.ground;
    const worked = workOutPalette(triaged.ground, triaged.causes, solver, options);
    const inTheme = world.index.table.themes.map((_, theme) => paletteProperties(world, worked, theme));
    const wear = new Map(plan.map((view) => [view.id, wearing(inTheme[world.index.themeAt(view.theme)] ?? [])] as const));
    const outcome = evaluate(world, recoloringUnder(world, worked.movable, worked.assignment));
    const ids = outcome.mended.flatMap((fault) => fault.findings.flatMap((at) => findings[at]?.id ?? []));
    return { wear, kept: { mended: ids, broken: outcome.broken.reduce((sum, { places }) => sum + places, 0) } };
  });
  if (tried === null) return { outcome: null, views: 0 };
  const { worn, kept } = tried;
  return worn === null
    ? { outcome: null, views: 0 }
    : { outcome: compareTry(kept, worn.names, { before: worn.before, after: worn.after }), views: worn.views };
}

export function writeFiles(configuration: Configuration, files: readonly RewrittenFile[]): void {
  for (const { file, text } of files) writeFileSync(path.resolve(configuration.folder, file), text);
}

function rewritten(
  { index }: World,
  { movable, assignment }: WorkedOut,
  configuration: Configuration,
): ReturnType<typeof rewriteTokens> {
  const steps = [...assignment.steps].flatMap(([at, color]) => {
    const step = movable.steps[at];
    const to = { kind: 'color', color } as const;
    return step === undefined ? [] : [{ token: index.pathOf(step.token), declared: step.declared, to }];
  });
  const aliases = [...assignment.aliases].flatMap(([at, target]) => {
    const alias = movable.aliases[at];
    const to = { kind: 'alias', path: index.pathOf(target) } as const;
    return alias === undefined ? [] : [{ token: index.pathOf(alias.token), declared: alias.declared, to }];
  });
  return rewriteTokens(configuration, [...steps, ...aliases]);
}

/** The token checks on the files as they would be. */
function newTokenFaults(configuration: Configuration, files: readonly RewrittenFile[]): readonly TokenFault[] {
  const texts = new Map(files.map(({ file, text }) => [path.resolve(configuration.folder, file), text]));
  const [before, after] = [readTokens(configuration), readTokens(configuration, { texts })].map((read) =>
    read === null ? [] : checkTokens({ graph: read.graph, reference: configuration.reference, pairs: read.pairs }).faults,
  );
  const known = new Set(before?.map(faultKey));
  return (after ?? []).filter((fault) => !known.has(faultKey(fault)));
}

function faultKey({ code, token, themes }: TokenFault): string {
  return JSON.stringify([code, token, themes]);
}
