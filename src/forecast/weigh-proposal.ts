// A proposal → what it mends, breaks and leaves by theme and check, the pairs that bind, and the places where most changes.
import { withLightness } from './steer-lightness.ts';
import type { Opaque } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import type { CheckId } from '../samples/finding.ts';
import type { Sample } from '../samples/sample.ts';
import type { Rect } from '../samples/view.ts';
import type { Case } from '../triage/cases/case.ts';
import { evaluate } from '../triage/choose/evaluate.ts';
import { lowest } from '../triage/recolor/recolored-sample.ts';
import { pairsOf, recolor } from '../triage/recolor/recolor.ts';
import type { Recoloring } from '../triage/recolor/recoloring.ts';
import type { TokenMoves } from '../triage/recolor/token-recoloring.ts';
import { movesTo, slotUnder } from '../triage/recolor/token-recoloring.ts';
import type { SeenPair } from '../triage/recolor/seen-pair.ts';
import { nameOfRef } from '../triage/tell/naming.ts';
import type { World } from '../triage/world.ts';
import type { ProposedChange } from './proposal.ts';
import { recoloringOfProposal } from './proposal.ts';

export interface WeighedRow {
  readonly theme: string;
  readonly check: CheckId;
  /** Findings. */
  readonly mends: number;
  readonly leaves: number;
  readonly unsure: number;
  /** Places that pass now. */
  readonly breaks: number;
}

/** An ink on a ground, where a contrast is asked. */
export interface WeighedPair {
  readonly ink: string;
  readonly ground: string;
  readonly theme: string;
  readonly before: number;
  readonly after: number;
  readonly required: number;
  /** Samples that look so. */
  readonly places: number;
}

/** One place with its colours before and after. */
export interface WeighedPlace {
  readonly view: string;
  readonly page: string;
  readonly state: string;
  readonly viewport: string;
  readonly theme: string;
  readonly selector: string;
  /** CSS px, page coordinates. */
  readonly rect: Rect;
  readonly kind: Sample['kind'];
  readonly label: string;
  readonly fate: 'broken' | 'left' | 'mended';
  readonly check: CheckId;
  readonly before: { readonly fore: string; readonly back: string };
  readonly after: { readonly fore: string; readonly back: string };
  readonly places: number;
}

export interface Weighed {
  readonly rows: readonly WeighedRow[];
  readonly pairs: readonly WeighedPair[];
  readonly places: readonly WeighedPlace[];
  readonly mends: number;
  readonly breaks: number;
  readonly leaves: number;
}

const MOST_PAIRS = 10;
const MOST_PLACES = 12;

export function weighProposal(world: World, changes: readonly ProposedChange[]): Weighed {
  const { recoloring } = recoloringOfProposal(world, changes);
  const outcome = evaluate(world, recoloring);
  const rows = new Map<string, { theme: string; check: CheckId; mends: number; leaves: number; unsure: number; breaks: number }>();
  const rowOf = (one: Case, check: CheckId): { mends: number; leaves: number; unsure: number; breaks: number } => {
    const theme = themeOf(world, one);
    const key = `${theme} ${check}`;
    const known = rows.get(key) ?? { theme, check, mends: 0, leaves: 0, unsure: 0, breaks: 0 };
    rows.set(key, known);
    return known;
  };
  for (const { case: one, check, findings } of outcome.mended) rowOf(one, check).mends += findings.length;
  for (const { case: one, check, findings } of outcome.left) rowOf(one, check).leaves += findings.length;
  for (const { case: one, check, findings } of outcome.unsure) rowOf(one, check).unsure += findings.length;
  for (const { case: one, check, places } of outcome.broken) rowOf(one, check).breaks += places;
  const all = [...rows.values()];
  const sum = (of: 'mends' | 'leaves' | 'breaks'): number => all.reduce((total, row) => total + row[of], 0);
  const placed = (
    fate: WeighedPlace['fate'],
    list: readonly { readonly case: Case; readonly check: CheckId; readonly places: number }[],
  ): readonly WeighedPlace[] =>
    list
      .toSorted((one, other) => other.places - one.places)
      .flatMap(({ case: one, check, places }) => brokenPlace(recoloring, { one, check, places, fate }) ?? []);
  const asPlaces = (faults: typeof outcome.mended): readonly { case: Case; check: CheckId; places: number }[] =>
    faults.map(({ case: one, check, findings }) => ({ case: one, check, places: findings.length }));
  return {
    rows: all.toSorted((one, other) => other.breaks - one.breaks || other.mends - one.mends),
    pairs: pairsUnder(world, recoloring),
    places: [
      ...placed('broken', outcome.broken),
      ...placed('left', asPlaces(outcome.left)),
      ...placed('mended', asPlaces(outcome.mended)),
    ].slice(0, MOST_PLACES),
    mends: sum('mends'),
    breaks: sum('breaks'),
    leaves: sum('leaves'),
  };
}

function themeOf({ index }: World, { theme }: Case): string {
  return index.table.themes[theme]?.name ?? '';
}

function seenUnder(one: Case, recoloring: Recoloring): readonly SeenPair[] | null {
  const after = recolor(one, recoloring);
  return after.kind === 'pairs' ? after.pairs : after.kind === 'same' ? pairsOf(one) : null;
}

/** Nearest to their requirement first. */
function pairsUnder(world: World, recoloring: Recoloring): readonly WeighedPair[] {
  const pairs = new Map<string, WeighedPair>();
  for (const id of recoloring.touched) {
    const one = world.cases[id];
    if (one === undefined || one.required === 0 || !one.judged) continue;
    const after = seenUnder(one, recoloring);
    if (after === null || after.length === 0) continue;
    const top = one.back.at(-1);
    const [first] = one.seenBacks;
    const ground = top === undefined ? (first === undefined ? '' : toCssText(first)) : nameOfRef(world.index, top.ref);
    const pair = {
      ...{ ink: nameOfRef(world.index, one.fore), ground, theme: themeOf(world, one), required: one.required },
      ...{ before: lowest(pairsOf(one)), after: lowest(after), places: one.samples },
    };
    const key = `${pair.ink} ${pair.ground} ${pair.theme} ${String(pair.required)}`;
    const known = pairs.get(key);
    pairs.set(
      key,
      known === undefined ? pair : { ...(known.after <= pair.after ? known : pair), places: known.places + pair.places },
    );
  }
  return [...pairs.values()].toSorted((one, other) => one.after / one.required - other.after / other.required).slice(0, MOST_PAIRS);
}

function brokenPlace(
  recoloring: Recoloring,
  {
    one,
    check,
    places,
    fate,
  }: { readonly one: Case; readonly check: CheckId; readonly places: number; readonly fate: WeighedPlace['fate'] },
): WeighedPlace | null {
  const { view, sample } = one.place;
  const [before] = pairsOf(one);
  const [after] = seenUnder(one, recoloring) ?? [];
  if (sample === null || before === undefined || after === undefined) return null;
  return {
    ...{ view: view.id, page: view.page, state: view.state, viewport: view.viewport, theme: view.theme },
    ...{ selector: sample.selector, rect: sample.rect, kind: sample.kind, fate, check, places },
    label: sample.kind === 'text' ? sample.text : (sample.label ?? sample.selector),
    before: textsOf(before),
    after: textsOf(after),
  };
}

function textsOf({ fore, back }: SeenPair): WeighedPlace['before'] {
  return { fore: toCssText(fore), back: toCssText(back) };
}

export interface LightnessBand {
  readonly theme: string;
  /** L*, from and to, where every pair that the step has a part in reaches its contrast. Empty: there is none. */
  readonly passes: readonly (readonly [from: number, to: number])[];
}

const BAND_STEPS = 50;

/** Where the lightness of one step may lie, the rest of the proposal as it is; hue stays, chroma as far as sRGB holds it. */
export function lightnessBand(
  world: World,
  changes: readonly ProposedChange[],
  at: { readonly token: string; readonly theme: string },
): LightnessBand {
  const { index } = world;
  const [token, theme] = [index.tokenAt(at.token), index.themeAt(at.theme)];
  const { after } = recoloringOfProposal(world, changes);
  const start = token < 0 ? null : after.colorOf(theme, token);
  if (start === null) return { theme: at.theme, passes: [] };
  const ids = world.reachOf(token, index.governedBy(theme, token)).touched.filter((id) => {
    const one = world.cases[id];
    return (
      one !== undefined && one.required > 0 && one.judged && !one.exempt.has('text-contrast') && !one.exempt.has('graphic-contrast')
    );
  });
  // All that hangs on the step gets its colour; the rest is as the proposal has it.
  const hanging = new Map(index.governedBy(theme, token).map((each) => [each, new Set(after.dependentsOf(each, token))]));
  const others = movesTo(index, (each, other) => after.colorOf(each, other));
  const isFine = (color: Opaque): boolean => {
    const moves: TokenMoves = (each, other) =>
      hanging.get(each)?.has(other) === true ? { ...color, alpha: start.alpha } : others(each, other);
    const recoloring: Recoloring = { touched: ids, colorOf: (one, slot) => slotUnder(moves, one, slot) };
    return ids.every((id) => {
      const one = world.cases[id];
      const seen = one === undefined ? null : seenUnder(one, recoloring);
      return one === undefined || seen === null || lowest(seen) >= one.required;
    });
  };
  const passes: [number, number][] = [];
  for (let step = 0; step <= BAND_STEPS; step += 1) {
    const lightness = (step * 100) / BAND_STEPS;
    if (!isFine(withLightness(start, lightness))) continue;
    const last = passes.at(-1);
    if (last !== undefined && lightness - last[1] < 100 / BAND_STEPS + 1e-6) last[1] = lightness;
    else passes.push([lightness, lightness]);
  }
  return { theme: at.theme, passes };
}
