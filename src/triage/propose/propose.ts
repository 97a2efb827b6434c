// All changes that could mend a fault, whatever layer they lie in.
import { toCssText } from '../../colour/format-color.ts';
import type { Ground, Proposal } from './candidate.ts';
import type { Case, CaseFilter, Role } from '../cases/case.ts';
import type { UseSite } from '../recolor/change.ts';
import { looksAlike } from '../recolor/composite-layers.ts';
import { ascending } from '../counting.ts';
import { isContrast, proposeGap } from './gap.ts';
import { wordsMeant } from './named-for.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { refKey } from '../cases/paint-ref.ts';
import { componentIn } from '../cases/name-words.ts';
import { uncounted } from '../cases/selectors.ts';
import { proposeAlias } from './alias.ts';
import { hueFamily } from '../../tokens/match/fit.ts';
import {
  proposeAlpha,
  proposeIndicator,
  proposeOpacity,
  proposeOutline,
  proposeRebuild,
  proposeUnglow,
  proposeUnfilter,
} from './page.ts';
import { proposeUse } from './use.ts';
import { proposeValue } from './value.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { CaseFault } from '../world.ts';

/** What proposals are made from: the ground, and the ways in which faults hang together. */
export interface Links {
  readonly ground: Ground;
  /** Whether the page's own declaration of a token is stale in a theme. */
  readonly isStale: (theme: number, token: number) => boolean;
  /** Cases that lie on these elements. */
  readonly casesOn: (elements: ReadonlySet<number>) => readonly number[];
  /** Faults of contrast by what they lie on and what they are. */
  readonly faultsOn: ReadonlyMap<string, readonly CaseFault[]>;
  /** Cases by role and literal. */
  readonly sameLiteral: ReadonlyMap<string, readonly number[]>;
  /** Families of surfaces with faults of their step, by theme and what they lie on. */
  readonly partedOn: ReadonlyMap<string, ReadonlySet<string>>;
  /** Steps of ramps that another one repeats. */
  readonly repeatedSteps: ReadonlySet<number>;
  /** What was found when one token was tried for all that wear a literal: whether it breaks nothing, by the key of the proposal. */
  readonly triedForAll: Map<string, boolean>;
}

function isAlike(one: CaseFilter, other: CaseFilter): boolean {
  return one.filter === other.filter && uncounted(one.selector) === uncounted(other.selector);
}

export function proposalsFor(links: Links, fault: CaseFault): readonly Proposal[] {
  const { ground } = links;
  const { world } = ground;
  const one = fault.case;
  const out: Proposal[] = [];
  for (const filter of one.filters) {
    // Photos of one class stand side by side: what they have of one rule is one matter.
    const alike = world.cases.flatMap((each) =>
      each.theme === one.theme ? each.filters.filter((other) => isAlike(other, filter)).map((other) => ({ each, other })) : [],
    );
    const selectors = [...new Set(alike.map(({ other }) => other.selector))].sort();
    const selector = selectors.length > 1 ? uncounted(filter.selector) : filter.selector;
    const cases = ascending(alike.map(({ each }) => each.id));
    const written = alike.find(({ other }) => other.written !== undefined)?.other.written ?? [];
    out.push(proposeUnfilter(ground, { selector, selectors, filter: filter.filter, written, themes: [one.theme], cases }));
  }
  if (one.role === 'picture') return out;
  for (const ref of [one.fore, ...(isOnlyParted(links, fault) ? [] : one.back.map((layer) => layer.ref))])
    out.push(...tokenProposals(links, one.theme, ref));
  const site = foreSite(links, one);
  // Another face would have to suit the words on it.
  out.push(...(one.role === 'face' && hasWords(links, one) ? [proposeOutline(ground, site, one)] : usesFor(links, site, one)));
  if (one.role !== 'surface') {
    const top = one.back.at(-1);
    if (top !== undefined && one.grounds.size > 0) out.push(proposeUse(ground, surfaceSite(links, top.ref, one.grounds)));
  }
  if (one.role === 'ring' && one.foreFixed && showsNothing(one)) out.push(proposeIndicator(ground, site));
  if (one.foreOpacity < 1) out.push(proposeOpacity(ground, site));
  else if (one.fore.kind === 'token' && one.fore.alpha < 1) out.push(proposeAlpha(ground, site, one.fore.alpha));
  if (one.role === 'shadow' && one.fore.kind === 'literal') out.push(proposeUnglow(ground, site));
  if (isContrast(fault) && !(one.role === 'ring' && showsNothing(one))) {
    const lying = groundKey(world.index, one);
    out.push(proposeGap(ground, lying, links.faultsOn.get(lying) ?? [fault]));
    const faults = world.familyOf(one).flatMap((each) => world.faultsOf(each).filter(isContrast));
    out.push(proposeGap(ground, one.family, faults));
  }
  return out;
}

/** What one surface alone is not told from, or differs from too much, is not changed for it, unless its ramp says that it is off. */
function isOnlyParted({ ground, partedOn }: Links, { check, case: one }: CaseFault): boolean {
  if (check !== 'separation') return false;
  const { trend, world } = ground;
  const [top] = one.back.slice(-1);
  if (top === undefined || (partedOn.get(groundOfParted(one))?.size ?? 0) > 1) return false;
  const root = top.ref.kind === 'token' ? world.index.rootOf(one.theme, top.ref.token) : -1;
  return root < 0 || trend.courseOf(one.theme, root)?.odd !== true;
}

/** What a surface lies on, in its theme. */
export function groundOfParted({ theme, back }: Case): string {
  const top = back.at(-1);
  return `${String(theme)} ${top === undefined ? '' : refKey(top.ref)}`;
}

/** For each token on the way to the literal: the literal, or where it points; everywhere it holds, or only where it fails. */
function tokenProposals(links: Links, theme: number, ref: PaintRef): readonly Proposal[] {
  const { ground, isStale } = links;
  const { index } = ground.world;
  if (ref.kind !== 'token' && ref.kind !== 'stale') return [];
  const chain = index.chainOf(theme, ref.token);
  if (ref.kind === 'stale') {
    const stale = chain.findLast((token) => isStale(theme, token)) ?? ref.token;
    const themes = index.table.themes.flatMap((_, each) => (isStale(each, stale) ? [each] : []));
    return [proposeRebuild(ground, stale, themes)];
  }
  const isComposite = (token: number): boolean => index.table.tokens[token]?.isComposite === true;
  const isPointed = (token: number): boolean =>
    index.stepOf(token) === null && !links.repeatedSteps.has(token) && !isComposite(token);
  return chain.flatMap((token) => {
    const isLiteral = index.definitionOf(theme, token)?.kind === 'literal';
    const governed = index.governedBy(theme, token);
    const failing = governed.filter((each) => hasFaults(ground, each, token));
    const groups = failing.length < governed.length && failing.length > 0 ? [governed, failing] : [governed];
    if (failing.length > 1) groups.push([theme]);
    return groups.flatMap((themes) => [
      ...(isLiteral || isPartOfColour(index, theme, token) ? [proposeValue(ground, token, themes)] : []),
      ...(isPointed(token) ? [proposeAlias(ground, token, themes)] : []),
    ]);
  });
}

/** It points at a colour that others point at as well, and that is no step: what is wrong with it alone is mended in it. */
function isPartOfColour(index: TableIndex, theme: number, token: number): boolean {
  const root = index.rootOf(theme, token);
  if (root < 0 || root === token || index.stepOf(root) !== null) return false;
  const isComponents = componentIn(index.pathOf(token)) !== '' && componentIn(index.pathOf(root)) === '';
  return isComponents || index.dependentsOf(theme, root).length > index.dependentsOf(theme, token).length + 1;
}

function hasFaults(ground: Ground, theme: number, token: number): boolean {
  const { world } = ground;
  return world.index
    .dependentsOf(theme, token)
    .some((each) => world.casesOf(theme, each).some((id) => (world.cases[id]?.findings.size ?? 0) > 0));
}

/** The family, and for a literal all that wears the same literal. */
function foreSite(links: Links, one: Case): UseSite {
  const { world } = links.ground;
  const family = world.familyOf(one);
  if (one.role === 'surface') {
    const elements = new Set(family.flatMap((each) => (each.findings.size > 0 ? [...each.elements] : [])));
    return surfaceSite(links, one.fore, elements);
  }
  const alike = one.fore.kind === 'literal' ? (links.sameLiteral.get(literalKey(one)) ?? []) : [];
  return { side: 'fore', ref: one.fore, cases: ascending([...family.map((each) => each.id), ...alike]) };
}

/** Where no one token does for all that wear a literal, one for what lies on the same surface may. */
function usesFor({ ground, triedForAll }: Links, site: UseSite, { family }: Case): readonly Proposal[] {
  const { world } = ground;
  const all = proposeUse(ground, site);
  const own = site.side === 'fore' ? site.cases.filter((id) => world.cases[id]?.family === family) : site.cases;
  if (site.side !== 'fore' || own.length === site.cases.length) return [all];
  const apart = proposeUse(ground, { ...site, cases: own });
  return [
    {
      key: all.key,
      propose: (isOpen) => {
        const found = all.propose(isOpen);
        if (!triedForAll.has(all.key)) triedForAll.set(all.key, found !== null && found.outcome.broken.length === 0);
        return found;
      },
    },
    { key: apart.key, propose: (isOpen) => (triedForAll.get(all.key) === true ? null : apart.propose(isOpen)) },
  ];
}

function surfaceSite(links: Links, ref: PaintRef, elements: ReadonlySet<number>): UseSite {
  const key = refKey(ref);
  const { world } = links.ground;
  // The same elements may be painted by something else in another theme: another declaration, left alone.
  const cases = links.casesOn(elements).filter((id) => {
    const one = world.cases[id];
    if (one === undefined) return false;
    const own = one.role === 'surface' && meets(one.elements, elements) ? one.fore : one.back.at(-1)?.ref;
    return own !== undefined && refKey(own) === key;
  });
  return { side: 'surface', ref, elements, cases };
}

/** Words lie on the control itself. */
function hasWords({ casesOn, ground: { world } }: Links, { elements }: Case): boolean {
  return casesOn(elements).some((id) => world.cases[id]?.role === 'ink');
}

/** Focused and unfocused look the same. */
function showsNothing(one: Case): boolean {
  return one.seenBacks.every((back) => looksAlike(one.seenFore, back));
}

function meets(one: ReadonlySet<number>, other: ReadonlySet<number>): boolean {
  for (const each of one) if (other.has(each)) return true;
  return false;
}

/**
 * What one missing token may have to serve: what is meant by the same word, on whatever it lies; else what lies on one surface, red apart from
 * blue. Where there are no tokens at all, each pair of colours is its own.
 */
export function groundKey(index: TableIndex, one: Case): string {
  const top = one.back.at(-1);
  if (index.table.tokens.length === 0)
    return [one.role, ...[one.fore, ...(top === undefined ? [] : [top.ref])].map(({ color }) => toCssText(color))].join(' ');
  const meant = wordsMeant(index, one);
  // What tells a face from the page is an outline.
  const as: Role = one.role === 'face' ? 'edge' : one.role;
  if (meant.length > 0) return [as, 'means', ...meant].join(' ');
  return [as, top === undefined ? one.family : refKey(top.ref), hueFamily(one.fore.color)].join(' ');
}

export function literalKey(one: Case): string {
  return `${one.role} ${refKey(one.fore)}`;
}
