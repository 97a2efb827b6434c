// A run's cases → the least change of the whole palette, told: what moves, what that mends and breaks, what would fail next, what cannot be met.
import type { Color } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import { deltaEOk } from '../colour/lightness.ts';
import type { CauseLayer, CheckId } from '../samples/finding.ts';
import type { Ground } from '../triage/propose/candidate.ts';
import type { Case } from '../triage/cases/case.ts';
import type { ExplainedCause } from '../triage/tell/causes.ts';
import { evaluate } from '../triage/choose/evaluate.ts';
import { nameOfRef, themeNames } from '../triage/tell/naming.ts';
import type { World } from '../triage/world.ts';
import type { Assignment, Driver } from './assignment.ts';
import { recoloringUnder } from './assignment.ts';
import { stepUnder } from './build-programme.ts';
import { conflictOf } from './conflicts.ts';
import type { Movable, MoveOptions } from './movable.ts';
import { findMovable } from './movable.ts';
import type { Solver } from './programme.ts';
import type { Requirement } from './requirements.ts';
import type { SolvedPalette } from './solve-palette.ts';
import { isMissed, shortBy, solvePalette } from './solve-palette.ts';

export interface PaletteChange {
  readonly change: 'value' | 'alias';
  /** Token path. */
  readonly of: string;
  /** Colours, or token paths. */
  readonly from: string;
  readonly to: string;
  readonly themes: readonly string[];
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** ΔE OK between the colours before and after, the largest of its themes. */
  readonly movement: number;
  /** Findings of contrast in whose mending it has a part. */
  readonly mends: number;
}

/** A pair of colours and what is asked of it. */
export interface PalettePair {
  readonly ink: string;
  readonly ground: string;
  readonly theme: string;
  /** Contrast ratio under the palette, and the one asked for. */
  readonly ratio: number;
  readonly required: number;
  /** Samples that look so. */
  readonly places: number;
}

export interface UnmetPair extends PalettePair {
  readonly findings: number;
  /** Contradicts it: pinned tokens, other pairs, rules of ramps; none of them where it cannot be met by itself. Null: not found out. */
  readonly against: {
    readonly pins: readonly string[];
    readonly pairs: readonly PalettePair[];
    readonly rules: readonly string[];
  } | null;
}

export interface Palette {
  readonly changes: readonly PaletteChange[];
  /** Pairs that would fail next, the nearest first. */
  readonly binding: readonly PalettePair[];
  readonly unmet: readonly UnmetPair[];
  /** Findings of contrast, before. */
  readonly findings: number;
  /** Of all checks, by the same sums as repairs of causes. */
  readonly mends: number;
  readonly breaks: readonly { readonly check: CheckId; readonly places: number }[];
  /** Findings of contrast whose causes lie elsewhere: in a page's use of a token, in a build that lags behind. They are left as they are. */
  readonly elsewhere: number;
  /** Findings of contrast that no token decides: literals, pictures, gradients, filters. */
  readonly outOfReach: number;
  /** Sum of the movements, ΔE OK. */
  readonly movement: number;
  /** The same for the repairs of causes taken one by one: values and aliases that mend contrast. */
  readonly oneByOne: { readonly changes: number; readonly movement: number; readonly mends: number; readonly breaks: number };
  readonly gaveUp?: string;
}

export interface PaletteOptions extends MoveOptions {
  /** Pairs listed as binding. */
  readonly binding: number;
}

/** Explained in full, at most; the rest is listed. */
const MOST_CONFLICTS = 12;
/** Room of a pair that counts as binding: what one 8-bit code is worth at most, about 3 % of the ratio. */
const TIGHT = 0.03;

export interface WorkedOut {
  readonly palette: Palette;
  readonly movable: Movable;
  readonly assignment: Assignment;
}

export function workOutPalette(
  ground: Ground,
  causes: readonly ExplainedCause[],
  solver: Solver,
  options: PaletteOptions,
): WorkedOut {
  const { world } = ground;
  const movable = findMovable(world.index, options);
  const elsewhere = casesElsewhere(world, causes);
  const solved = solvePalette(world, movable, solver, new Set(elsewhere.map(({ id }) => id)));
  const { assignment, requirements, unmet } = solved;
  const outcome = evaluate(world, recoloringUnder(world, movable, assignment));
  const breaks = new Map<CheckId, number>();
  for (const { check, places } of outcome.broken) breaks.set(check, (breaks.get(check) ?? 0) + places);
  const changes = [...stepChanges(world, movable, solved), ...aliasChanges(world, movable, solved)];
  const named = (each: Requirement): PalettePair => pairOf(world, each);
  const isMoved = (theme: number, driver: Driver): boolean =>
    assignment.steps.has(stepUnder({ movable, assignment }, theme, driver)) ||
    (driver.kind === 'alias' && assignment.aliases.has(driver.at));
  const binding = requirements
    .filter((each) => !isMissed(each) && shortBy(each) > -TIGHT && each.pulls.some(({ theme, driver }) => isMoved(theme, driver)))
    .toSorted((one, other) => shortBy(other) - shortBy(one))
    .slice(0, options.binding)
    .map(named);
  const unmetKeys = new Set(unmet.map(({ key }) => key));
  const told = unmet.map((each, at): UnmetPair => {
    const conflict = at < MOST_CONFLICTS ? conflictOf(solved.asked, each, unmetKeys, solver) : null;
    const byKey = new Map(solved.asked.requirements.map((other) => [other.key, other]));
    return {
      ...named(each),
      findings: contrastFindings(each.cases),
      against:
        conflict === null
          ? null
          : {
              pins: conflict.pins.map((pin) => world.index.pathOf(movable.steps[pin]?.token ?? -1)),
              pairs: conflict.requirements.flatMap((key) => byKey.get(key) ?? []).map(named),
              rules: conflict.rules,
            },
    };
  });
  return {
    movable,
    assignment,
    palette: {
      changes,
      binding,
      unmet: told,
      findings: contrastFindings(world.cases),
      mends: outcome.mended.reduce((sum, fault) => sum + fault.findings.length, 0),
      breaks: [...breaks].map(([check, places]) => ({ check, places })),
      elsewhere: contrastFindings(elsewhere),
      outOfReach: contrastFindings(solved.outOfReach),
      movement: changes.reduce((sum, { movement }) => sum + movement, 0),
      oneByOne: oneByOne(world, causes),
      ...(solved.gaveUp === undefined ? {} : { gaveUp: solved.gaveUp }),
    },
  };
}

/** Layers whose faults no colour of the palette mends. */
const PAGE_LAYERS: ReadonlySet<CauseLayer> = new Set(['usage', 'build', 'content']);

function casesElsewhere({ cases }: World, causes: readonly ExplainedCause[]): readonly Case[] {
  const theirs = new Set(causes.flatMap(({ cause, findings }) => (PAGE_LAYERS.has(cause.layer) ? findings : [])));
  return cases.filter((one) => CONTRAST.some((check) => one.findings.get(check)?.some((at) => theirs.has(at))));
}

function contrastFindings(cases: readonly Case[]): number {
  return new Set(cases.flatMap((one) => CONTRAST.flatMap((check) => [...(one.findings.get(check) ?? [])]))).size;
}

const CONTRAST: readonly CheckId[] = ['text-contrast', 'graphic-contrast'];

function stepChanges(world: World, movable: Movable, solved: SolvedPalette): readonly PaletteChange[] {
  const { index } = world;
  return [...solved.assignment.steps].flatMap(([at, color]): PaletteChange[] => {
    const step = movable.steps[at];
    if (step === undefined) return [];
    return [
      {
        change: 'value',
        of: index.pathOf(step.token),
        from: toCssText(step.start),
        to: toCssText(color),
        themes: themeNames(index, step.themes),
        ...fileAndLine(step.declared),
        movement: deltaEOk(step.start, color),
        mends: mendsOf(solved, 'step', at),
      },
    ];
  });
}

function aliasChanges(world: World, movable: Movable, solved: SolvedPalette): readonly PaletteChange[] {
  const { index } = world;
  return [...solved.assignment.aliases].flatMap(([at, target]): PaletteChange[] => {
    const alias = movable.aliases[at];
    if (alias === undefined) return [];
    const moved = alias.themes.map((theme) => {
      const [from, to] = [index.colorOf(theme, alias.target), colorUnderSteps(movable, solved.assignment, theme, target)];
      return from === null || to === null ? 0 : deltaEOk(from, to);
    });
    return [
      {
        change: 'alias',
        of: index.pathOf(alias.token),
        from: index.pathOf(alias.target),
        to: index.pathOf(target),
        themes: themeNames(index, alias.themes),
        ...fileAndLine(alias.declared),
        movement: Math.max(0, ...moved),
        mends: mendsOf(solved, 'alias', at),
      },
    ];
  });
}

function colorUnderSteps(movable: Movable, { steps }: Assignment, theme: number, token: number): Color | null {
  const at = movable.stepAt(theme, token);
  return steps.get(at) ?? movable.steps[at]?.start ?? null;
}

function fileAndLine({ file, line }: { readonly file?: string; readonly line?: number }): {
  readonly file?: string;
  readonly line?: number;
} {
  return { ...(file === undefined ? {} : { file }), ...(line === undefined ? {} : { line }) };
}

/** Findings of contrast of the requirements that are met now and hang on a step or an alias. */
function mendsOf({ requirements, asked, assignment }: SolvedPalette, kind: 'step' | 'alias', at: number): number {
  const under = { movable: asked.movable, assignment };
  const met = requirements.filter(
    (each) =>
      !isMissed(each) &&
      each.pulls.some(({ driver, theme }) =>
        kind === 'step' ? stepUnder(under, theme, driver) === at : driver.kind === 'alias' && driver.at === at,
      ),
  );
  return contrastFindings(met.flatMap(({ cases }) => cases));
}

function pairOf({ index }: World, each: Requirement): PalettePair {
  const [one] = each.cases;
  const top = one?.back.at(-1);
  const ratio = Math.exp(each.side * each.difference);
  return {
    ink: one === undefined ? '' : nameOfRef(index, one.fore),
    ground: top === undefined ? (one === undefined ? '' : toCssText(one.seenBacks[0] ?? one.seenFore)) : nameOfRef(index, top.ref),
    theme: index.table.themes[each.theme]?.name ?? '',
    ratio,
    required: one?.required ?? 0,
    places: each.cases.reduce((sum, { samples }) => sum + samples, 0),
  };
}

/** The causes' own repairs, for comparison: only what moves values and aliases, and mends contrast. */
function oneByOne({ index, faults }: World, causes: readonly ExplainedCause[]): Palette['oneByOne'] {
  const ofContrast = new Set(faults.filter(({ check }) => CONTRAST.includes(check)).flatMap(({ findings }) => findings));
  const taken = causes.filter(
    (each) =>
      each.cause.repair !== undefined &&
      each.changes.every(({ kind }) => kind === 'value' || kind === 'alias') &&
      each.findings.some((at) => ofContrast.has(at)),
  );
  const moved = taken.flatMap(({ changes }) =>
    changes.flatMap((change): number[] => {
      if (change.kind !== 'value' && change.kind !== 'alias') return [];
      const distances = change.themes.map((theme) => {
        const from = index.colorOf(theme, change.token);
        const to = change.kind === 'value' ? change.color : index.colorOf(theme, change.target);
        return from === null || to === null ? 0 : deltaEOk(from, to);
      });
      return [Math.max(0, ...distances)];
    }),
  );
  return {
    changes: moved.length,
    movement: moved.reduce((sum, each) => sum + each, 0),
    mends: taken.reduce((sum, { cause }) => sum + (cause.repair?.fixes ?? 0), 0),
    breaks: taken.reduce((sum, { cause }) => sum + (cause.repair?.breaks ?? 0), 0),
  };
}
