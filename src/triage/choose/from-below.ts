// Chooses explanations from below: what the page or a ramp’s own course proves is taken first, and the rest is looked at anew as if that had
// been mended; then what siblings or its own name prove; then what is left.
import type { Ground, Part } from '../propose/candidate.ts';
import type { Explanation } from './choose.ts';
import { choose } from './choose.ts';
import { groundOf } from '../cases/usage.ts';
import { isReadOn } from '../propose/named-for.ts';
import { evaluate } from './evaluate.ts';
import { openLinks } from './links.ts';
import { mendedGround } from './mended-ground.ts';
import { onLeftSurfaces } from './on-left-surfaces.ts';
import type { Change } from '../recolor/change.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { withoutServedGaps } from './served-gaps.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { CaseFault } from '../world.ts';

/** An explanation, and the changes that it takes for made. */
export interface GroundedExplanation extends Explanation {
  readonly ground: Ground;
  readonly upon: readonly Part[];
}

export interface GroundedChoice {
  readonly explanations: readonly GroundedExplanation[];
  readonly unexplained: readonly CaseFault[];
  /** Of these what lies on a surface that is itself among them, with the surface's fault. */
  readonly onLeft: ReadonlyMap<CaseFault, CaseFault>;
}

/** How far up the chain an explanation stands that something besides the sums speaks for; the others come last. */
function heightOf({ world: { index } }: Ground, { layer, evidence, faults, changes: [first] }: Explanation): number {
  if (layer === 'build' || first?.change.kind === 'filter' || evidence.course === 'odd') return 1;
  if (isLeftSurface(first?.change, faults)) return 2;
  if (layer !== 'token') return LAST;
  return evidence.siblings === 'odd' || isNamedFor(index, first?.change, faults) ? 2 : LAST;
}

const LAST = 3;

/** A surface that stayed as in the other theme is wrong whatever lies on it, and what cannot be read there is no matter of its own. */
function isLeftSurface(change: Change | undefined, faults: readonly CaseFault[]): boolean {
  if (change?.kind !== 'use' || change.site.side !== 'surface' || change.site.ref.kind === 'token') return false;
  return faults.some(({ check, case: one }) => check === 'unthemed' && one.role === 'surface');
}

/** What is called `on-primary` and cannot be read on `primary` is wrong whatever else is. */
function isNamedFor(index: TableIndex, change: Change | undefined, faults: readonly CaseFault[]): boolean {
  if (change?.kind !== 'alias' && change?.kind !== 'value') return false;
  return faults.some(({ case: one }) => isReadOn(index, change.token, groundOf(one)));
}

/** @returns faults as those of `ground`, whatever was taken for made on the way */
export function chooseFromBelow(ground: Ground, isStale: (theme: number, token: number) => boolean): GroundedChoice {
  const rebuilt = new Set<string>();
  const stillStale = (theme: number, token: number): boolean => isStale(theme, token) && !rebuilt.has(`${theme} ${token}`);
  const done: GroundedExplanation[] = [];
  const upon: Part[] = [];
  let here = ground;
  let choice = choose(openLinks(here, stillStale));
  for (let height = 1; height < LAST; height += 1) {
    const sure = choice.explanations.filter((each) => heightOf(here, each) <= height);
    if (sure.length === 0 || (sure.length === choice.explanations.length && choice.unexplained.length === 0)) continue;
    const parts = sure.flatMap(({ changes }) => changes);
    const shared = sharedBy(here, sure);
    for (const each of shared) done.push({ ...each, ground: here, upon: [...upon] });
    for (const { change } of parts) {
      if (change.kind === 'rebuild') for (const theme of change.themes) rebuilt.add(`${theme} ${change.token}`);
    }
    here = mendedGround(here, parts, new Set(shared.flatMap(({ faults }) => faults)));
    upon.push(...parts);
    choice = choose(openLinks(here, stillStale));
  }
  const onLeft = onLeftSurfaces(here, choice.unexplained);
  const left = new Set([...onLeft].flat());
  if (left.size > 0) {
    here = mendedGround(here, [], left);
    choice = choose(openLinks(here, stillStale));
  }
  const last = withoutServedGaps(here, choice.explanations).map((each) => ({ ...each, ground: here, upon: [...upon] }));
  const explanations = [...done, ...gapsUponOthers(here, last)];
  const original = new Map(ground.world.faults.map((fault) => [faultKey(fault), fault]));
  const toOriginal = (fault: CaseFault): CaseFault => original.get(faultKey(fault)) ?? fault;
  return {
    explanations: explanations.map((each) => ({ ...each, faults: each.faults.map(toOriginal) })),
    unexplained: [...choice.unexplained, ...left].map(toOriginal),
    onLeft: new Map([...onLeft].map(([fault, surface]) => [toOriginal(fault), toOriginal(surface)])),
  };
}

/** What is to be asked of a token that is missing is asked of the page with all else mended: a surface may get another colour. */
function gapsUponOthers(here: Ground, explanations: readonly GroundedExplanation[]): readonly GroundedExplanation[] {
  const others = explanations.filter(({ layer }) => layer !== 'gap');
  const parts = others.flatMap(({ changes }) => changes);
  if (parts.length === 0 || others.length === explanations.length) return explanations;
  const ground = mendedGround(here, parts, new Set(others.flatMap(({ faults }) => faults)));
  return explanations.map((each) => (each.layer === 'gap' ? { ...each, ground, upon: [...each.upon, ...parts] } : each));
}

/** With what only several of them mend together, which goes to the first that touches it. */
function sharedBy({ world }: Ground, sure: readonly Explanation[]): readonly Explanation[] {
  const [first, ...rest] = sure.flatMap(({ changes }) => changes.map((part) => part.recoloring));
  if (first === undefined) return sure;
  const listed = new Set(sure.flatMap(({ faults }) => faults));
  const together = evaluate(world, rest.reduce(bothRecolorings, first)).mended.filter((fault) => !listed.has(fault));
  const touching = sure.map(({ changes }) => new Set(changes.flatMap((part) => part.recoloring.touched)));
  const ownerOf = (fault: CaseFault): number => touching.findIndex((cases) => cases.has(fault.case.id));
  return sure.map((each, at) => ({ ...each, faults: [...each.faults, ...together.filter((fault) => ownerOf(fault) === at)] }));
}

function faultKey({ case: one, check }: CaseFault): string {
  return `${one.id} ${check}`;
}
