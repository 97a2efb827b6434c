// Which causes must be mended first for a repair to keep what it promises: what it was judged upon was the page with those already mended.
import type { Ground, Part } from '../propose/candidate.ts';
import { evaluate } from '../choose/evaluate.ts';
import type { Case } from '../cases/case.ts';
import { demandsOf } from '../propose/gap.ts';
import type { World } from '../world.ts';
import type { Outcome } from '../choose/evaluate.ts';
import type { RuledExplanation } from '../choose/split-by-rule.ts';
import { recoloringOf } from '../recolor/make-recoloring.ts';
import type { Change } from '../recolor/change.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import type { ExplainedCause } from './causes.ts';

/** @returns the same causes; a repair that alone would mend less or break more names the causes it comes after */
export function withOrder(
  ground: Ground,
  explanations: readonly RuledExplanation[],
  causes: readonly ExplainedCause[],
): readonly ExplainedCause[] {
  const causeOfPart = new Map<Part, ExplainedCause>();
  for (const [at, { changes }] of explanations.entries()) {
    const cause = causes[at];
    for (const part of changes) if (cause !== undefined && !causeOfPart.has(part)) causeOfPart.set(part, cause);
  }
  return causes.map((explained, at) => {
    const { cause } = explained;
    const explanation = explanations[at];
    if (explanation === undefined || cause.repair === undefined || holdsAlone(ground, explanation)) return explained;
    const first = explanation.upon.filter((part) => isBeneath(explanation, part)).flatMap((part) => causeOfPart.get(part) ?? []);
    const others = [...new Set(first)].filter((other) => other !== explained);
    if (others.length === 0) return explained;
    const after = others.map((other) => other.cause.id).toSorted();
    return { ...explained, cause: { ...cause, repair: { ...cause.repair, after } }, after: others };
  });
}

/** As good on the page as it is as on the one it was judged upon. */
function holdsAlone(ground: Ground, { ground: { world }, changes, upon }: RuledExplanation): boolean {
  if (upon.length === 0) return true;
  const added = addedIn(changes);
  if (added.length > 0) return asks(ground.world, added) === asks(world, added);
  const alone = outcomeOf(ground, changes);
  const promised = evaluate(world, changes.map((part) => part.recoloring).reduce(bothRecolorings));
  const mended = keys(alone.mended);
  const broken = keys(promised.broken);
  return [...keys(promised.mended)].every((key) => mended.has(key)) && [...keys(alone.broken)].every((key) => broken.has(key));
}

function addedIn(changes: readonly Part[]): readonly number[] {
  return changes.flatMap(({ change }) => (change.kind === 'add' ? change.cases : []));
}

/** What a missing token must be, to compare. */
function asks(world: World, added: readonly number[]): string {
  return JSON.stringify(demandsOf(world, casesOf(world, added)));
}

function casesOf({ cases }: World, ids: readonly number[]): readonly Case[] {
  return ids.flatMap((id) => cases[id] ?? []);
}

function outcomeOf({ world }: Ground, changes: readonly Part[]): Outcome {
  return evaluate(world, changes.map(({ change }) => recoloringOf(change, world)).reduce(bothRecolorings));
}

function keys(found: readonly { readonly case: { readonly id: number }; readonly check: string }[]): ReadonlySet<string> {
  return new Set(found.map(({ case: one, check }) => `${one.id} ${check}`));
}

/** It changes a token that the explanation leads through, or cases that it paints. */
function isBeneath({ ground: { world }, changes }: RuledExplanation, { change, recoloring }: Part): boolean {
  const touched = new Set(recoloring.touched);
  const served = casesOf(world, addedIn(changes)).flatMap((one) => world.familyOf(one).map(({ id }) => id));
  if ([...changes.flatMap((part) => part.recoloring.touched), ...served].some((id) => touched.has(id))) return true;
  const token = 'token' in change ? change.token : null;
  if (token === null) return false;
  const themes = world.index.table.themes.keys();
  const led = changes.flatMap((part) => leadsTo(part.change));
  return [...themes].some((theme) => led.some((to) => world.index.chainOf(theme, to).includes(token)));
}

/** Tokens whose colours it puts on the page. */
function leadsTo(change: Change): readonly number[] {
  switch (change.kind) {
    case 'alias':
      return [change.target];
    case 'use':
      return [change.token, ...change.inks.map((ink) => ink.token)];
    case 'indicator':
    case 'outline':
    case 'value':
    case 'rebuild':
      return [change.token];
    case 'opacity':
    case 'alpha':
    case 'unglow':
    case 'filter':
    case 'add':
      return [];
  }
}
