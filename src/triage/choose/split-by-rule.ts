// Uses by where they are written: what two rules do is two faults, though the same change would mend both; what one rule does is one.
import type { WrittenPlace } from '../../samples/paint.ts';
import type { GroundedExplanation } from './from-below.ts';
import type { Part } from '../propose/candidate.ts';
import { isOwn } from '../recolor/make-recoloring.ts';
import { appendTo, ascending } from '../counting.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import type { CaseFault } from '../world.ts';

export interface RuledExplanation extends GroundedExplanation {
  /** The declaration behind it and the hops from there; empty where it was not looked up. */
  readonly written: readonly WrittenPlace[];
  /** Only its own findings count, not all that the change would mend. */
  readonly isPart: boolean;
  /** Each change of its own with where it is written, where one rule has several: `--x` of a button, set anew by each of its colours. */
  readonly variants: readonly Variant[];
}

export interface Variant {
  readonly part: Part;
  readonly written: readonly WrittenPlace[];
  /** How many findings it is behind. */
  readonly findings: number;
}

/** What is written where a colour is; an opacity has a declaration of its own, often of an element around. */
const WRITTEN_KINDS: readonly string[] = ['use', 'alpha', 'unglow', 'indicator', 'outline'];

function isOpacity({ changes: [first, ...more] }: GroundedExplanation): boolean {
  return first?.change.kind === 'opacity' && more.length === 0;
}

export function splitByRule(explanations: readonly GroundedExplanation[]): readonly RuledExplanation[] {
  const merged = new Map<string, RuledExplanation>();
  const out: RuledExplanation[] = [];
  for (const part of explanations.flatMap(partsOf)) {
    const key = blockKey(part.written);
    const known = key === null ? undefined : merged.get(key);
    if (known === undefined) {
      out.push(part);
      if (key !== null) merged.set(key, part);
      continue;
    }
    const joined = join(known, part);
    out[out.indexOf(known)] = joined;
    if (key !== null) merged.set(key, joined);
  }
  return out;
}

function partsOf(explanation: GroundedExplanation): readonly RuledExplanation[] {
  const isFade = isOpacity(explanation);
  const isUse =
    isFade || (explanation.layer === 'usage' && explanation.changes.every(({ change }) => WRITTEN_KINDS.includes(change.kind)));
  if (!isUse) return [{ ...explanation, written: [], isPart: false, variants: [] }];
  const surface = surfaceWritten(explanation);
  if (surface !== null) return [withVariant(explanation, surface)];
  const blocks = new Map<
    string,
    { readonly written: readonly WrittenPlace[]; readonly places: { readonly fault: CaseFault; readonly at: number }[] }
  >();
  const loose: { readonly fault: CaseFault; readonly at: number }[] = [];
  for (const fault of explanation.faults) {
    for (const at of fault.findings) {
      const written = (isFade ? fault.case.faded.get(at)?.written : fault.case.written.get(at)) ?? [];
      const key = blockKey(written);
      if (key === null) {
        loose.push({ fault, at });
        continue;
      }
      const block = blocks.get(key) ?? { written, places: [] };
      block.places.push({ fault, at });
      blocks.set(key, block);
    }
  }
  // Most places of a kind are not looked up: they go with the rule that has most.
  const sorted = [...blocks].toSorted(([a, one], [b, other]) => other.places.length - one.places.length || (a < b ? -1 : 1));
  const [first, ...rest] = sorted.map(([, block]) => block);
  if (first === undefined) return [{ ...explanation, written: [], isPart: false, variants: [] }];
  const all = [{ ...first, places: [...first.places, ...loose] }, ...rest];
  return all.map(({ written, places }) => ({
    ...withVariant({ ...explanation, faults: faultsOf(places) }, written),
    isPart: all.length > 1,
  }));
}

function withVariant(explanation: GroundedExplanation, written: readonly WrittenPlace[]): RuledExplanation {
  const findings = explanation.faults.reduce((sum, fault) => sum + fault.findings.length, 0);
  const [part] = explanation.changes;
  const isOne = part !== undefined && part.change.kind !== 'opacity' && explanation.changes.length === 1 && written.length > 0;
  return { ...explanation, written, isPart: false, variants: isOne ? [{ part, written, findings }] : [] };
}

/** What lies on a surface is written elsewhere: a change of the surface goes by where that is painted. Null for other changes. */
function surfaceWritten({ ground, changes }: GroundedExplanation): readonly WrittenPlace[] | null {
  const [first] = changes;
  if (first?.change.kind !== 'use' || first.change.site.side !== 'surface') return null;
  const { site } = first.change;
  const own = site.cases.flatMap((id) => ground.world.cases[id] ?? []).filter((one) => isOwn(site, one));
  return own.find(({ wrote }) => wrote.length > 0)?.wrote ?? [];
}

function faultsOf(places: readonly { readonly fault: CaseFault; readonly at: number }[]): readonly CaseFault[] {
  const byFault = new Map<CaseFault, number[]>();
  for (const { fault, at } of places) appendTo(byFault, fault, at);
  return [...byFault]
    .map(([fault, findings]) => ({ ...fault, findings: findings.sort((a, b) => a - b) }))
    .sort((a, b) => a.id - b.id);
}

function join(one: RuledExplanation, other: RuledExplanation): RuledExplanation {
  const weight = (each: RuledExplanation): number => each.faults.reduce((sum, fault) => sum + fault.findings.length, 0);
  const [first, second] = weight(other) > weight(one) ? [other, one] : [one, other];
  const faded = bothFaded(first, second);
  const changes = faded === null ? [...first.changes, ...second.changes.filter((part) => !first.changes.includes(part))] : [faded];
  const faults = [...first.faults, ...second.faults].toSorted((a, b) => a.id - b.id);
  const variants = [...first.variants, ...second.variants].toSorted((a, b) => b.findings - a.findings);
  return { ...first, changes, faults, variants, rival: Math.max(first.rival, second.rival), isPart: true };
}

/** One opacity over things of several colours; null where it is not all that changes. */
function bothFaded(one: RuledExplanation, other: RuledExplanation): Part | null {
  const [[part, ...more], [second, ...others]] = [one.changes, other.changes];
  if (part?.change.kind !== 'opacity' || second?.change.kind !== 'opacity' || more.length + others.length > 0) return null;
  const cases = ascending([...part.change.site.cases, ...second.change.site.cases]);
  const change = { ...part.change, site: { ...part.change.site, cases } };
  return { ...part, change, recoloring: bothRecolorings(part.recoloring, second.recoloring) };
}

/**
 * A rule of a style sheet; its declarations stand on lines of their own. What stands in pages and shadow trees comes again on every
 * page: there the same rule with the same declaration is one.
 */
function blockKey([first]: readonly WrittenPlace[]): string | null {
  if (first === undefined || first.rule === 'browser') return null;
  const { rule, file = '', property, value } = first;
  // What a rule takes from a property that others set is a matter of that property: `background: var(--x)`, `color: var(--y)`.
  const own = /^var\(/u.test(value) ? ` ${property}` : '';
  return STYLE_SHEET.test(file) ? `${file} ${rule}${own}` : `${rule} ${property} ${value}`;
}

const STYLE_SHEET = /\.(?:css|scss|sass|less|styl|pcss)(?:\?.*)?$/u;
