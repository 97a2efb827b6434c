// Uses by where they are written: what two rules do is two faults, though the same change would mend both; what one rule does is one.
import type { WrittenPlace } from '../../samples/paint.ts';
import type { GroundedExplanation } from './from-below.ts';
import { appendTo } from '../counting.ts';
import type { Fault } from '../world.ts';

export interface RuledExplanation extends GroundedExplanation {
  /** The declaration behind it and the hops from there; empty where it was not looked up. */
  readonly written: readonly WrittenPlace[];
  /** Only its own findings count, not all that the change would mend. */
  readonly isPart: boolean;
}

/** What was looked up is the declaration of a colour; opacity is declared elsewhere, often on an element around. */
const WRITTEN_KINDS: readonly string[] = ['use', 'remove', 'indicator'];

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
  const isUse = explanation.layer === 'usage' && explanation.changes.every(({ change }) => WRITTEN_KINDS.includes(change.kind));
  if (!isUse) return [{ ...explanation, written: [], isPart: false }];
  const blocks = new Map<
    string,
    { readonly written: readonly WrittenPlace[]; readonly places: { readonly fault: Fault; readonly at: number }[] }
  >();
  const loose: { readonly fault: Fault; readonly at: number }[] = [];
  for (const fault of explanation.faults) {
    for (const at of fault.findings) {
      const written = fault.case.written.get(at) ?? [];
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
  if (first === undefined) return [{ ...explanation, written: [], isPart: false }];
  const all = [{ ...first, places: [...first.places, ...loose] }, ...rest];
  return all.map(({ written, places }) => ({ ...explanation, faults: faultsOf(places), written, isPart: all.length > 1 }));
}

function faultsOf(places: readonly { readonly fault: Fault; readonly at: number }[]): readonly Fault[] {
  const byFault = new Map<Fault, number[]>();
  for (const { fault, at } of places) appendTo(byFault, fault, at);
  return [...byFault]
    .map(([fault, findings]) => ({ ...fault, findings: findings.sort((a, b) => a - b) }))
    .sort((a, b) => a.id - b.id);
}

function join(one: RuledExplanation, other: RuledExplanation): RuledExplanation {
  const weight = (each: RuledExplanation): number => each.faults.reduce((sum, fault) => sum + fault.findings.length, 0);
  const [first, second] = weight(other) > weight(one) ? [other, one] : [one, other];
  const changes = [...first.changes, ...second.changes.filter((part) => !first.changes.includes(part))];
  const faults = [...first.faults, ...second.faults].toSorted((a, b) => a.id - b.id);
  return { ...first, changes, faults, rival: Math.max(first.rival, second.rival), isPart: true };
}

/**
 * A rule of a style sheet; its declarations stand on lines of their own. What stands in pages and shadow trees comes again on every
 * page: there the same rule with the same declaration is one.
 */
function blockKey([first]: readonly WrittenPlace[]): string | null {
  if (first === undefined || first.rule === 'browser') return null;
  const { rule, file = '', property, value } = first;
  return STYLE_SHEET.test(file) ? `${file} ${rule}` : `${rule} ${property} ${value}`;
}

const STYLE_SHEET = /\.(?:css|scss|sass|less|styl|pcss)(?:\?.*)?$/u;
