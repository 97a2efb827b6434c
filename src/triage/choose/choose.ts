// From all candidates the few that explain all faults: again and again the one that explains best what is still open.
import type { CauseLayer } from '../../samples/finding.ts';
import type { Candidate, Evidence, Ground, IsOpen, Part, Proposal } from '../propose/candidate.ts';
import { weightIn } from '../propose/candidate.ts';
import { combine, pairFor } from '../propose/combine.ts';
import { appendTo } from '../counting.ts';
import { evaluate } from './evaluate.ts';
import type { Links } from '../propose/propose.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { groundKey, proposalsFor } from '../propose/propose.ts';
import { unlikeGap, isContrast } from '../propose/gap.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { CaseFault } from '../world.ts';

/** A change that explains some faults, and how clearly. */
export interface Explanation {
  readonly changes: readonly Part[];
  readonly evidence: Evidence;
  readonly layer: CauseLayer;
  /** What it is listed for; no fault is explained twice. */
  readonly faults: readonly CaseFault[];
  /** Score of the best explanation of the same faults in another layer, as a share of its own, 0–1. */
  readonly rival: number;
}

export interface Choice {
  readonly explanations: readonly Explanation[];
  /** What nothing explains. */
  readonly unexplained: readonly CaseFault[];
}

interface Entry {
  readonly proposal: Proposal;
  candidate: Candidate;
  /** How many faults were explained when it was made. */
  at: number;
}

/** A change may break places if it mends this many times as many; or lets surfaces merge that nothing else tells apart (ours). */
const [WORTH, MERGED_WORTH] = [5, 2] as const;

export function choose(links: Links): Choice {
  const { ground } = links;
  const open = new Set(ground.world.faults);
  const isOpen: IsOpen = (fault) => open.has(fault);
  const entries = firstEntries(links, isOpen);
  const rivals = rivalsByFault(entries);
  const queue = new Queue(entries.filter(({ candidate }) => candidate.outcome.broken.length === 0));
  const explanations: Explanation[] = [];
  // What its name speaks against is no repair, alone or with others.
  const all = entries.map(({ candidate }) => candidate).filter(({ evidence }) => evidence.foreign !== true);
  const decided = new Set<string>();
  // Nothing gets two values, or a value and another target, in one theme.
  const contradicts = (changes: readonly Part[]): boolean => changes.flatMap(decisionsOf).some((each) => decided.has(each));
  const explain = (
    changes: readonly [Part, ...Part[]],
    from: { readonly mended: readonly CaseFault[]; readonly score: number; readonly evidence: Evidence },
  ): void => {
    const faults = from.mended.filter(isOpen);
    if (faults.length === 0 || contradicts(changes)) return;
    for (const each of changes.flatMap(decisionsOf)) decided.add(each);
    const { layer } = changes[0];
    explanations.push({
      changes,
      layer,
      faults,
      evidence: from.evidence,
      rival: rivalOf({ layer, score: from.score }, faults, rivals),
    });
    for (const fault of faults) open.delete(fault);
  };

  for (let entry = queue.take(); entry !== undefined; entry = queue.take()) {
    const { candidate, proposal } = entry;
    const left = weightIn(candidate.outcome.mended, isOpen);
    if (left === 0) continue;
    if (entry.at !== open.size && left < candidate.outcome.gain) {
      // Part of what it mends is explained by now: it may look different for the rest.
      const again = proposal.propose(isOpen);
      if (again !== null && again.outcome.broken.length === 0) queue.put({ proposal, candidate: again, at: open.size });
      continue;
    }
    const own = candidate.layer === 'gap' ? ownValuesFor(all, candidate, isOpen) : [];
    if (own.length > 0 && !contradicts(own.flatMap((each) => each.parts))) {
      for (const { parts, outcome, score, evidence } of own) explain(parts, { mended: outcome.mended, score, evidence });
      queue.put({ ...entry, at: -1 });
      continue;
    }
    // A token is asked for in its place, where one can be.
    if (candidate.evidence.foreign === true) {
      const gap = unlikeGap(ground, isOpen, candidate.outcome.mended);
      if (gap !== null) explain(gap.parts, { mended: gap.outcome.mended, score: gap.score, evidence: gap.evidence });
      continue;
    }
    const next = candidate.outcome.mended.find(isOpen);
    const pair = next !== undefined && isPanel(candidate) ? pairFor(ground, all, next, open) : null;
    if (pair !== null && pair.score > candidate.score && !contradicts(pair.changes)) {
      explain(pair.changes, { ...pair, evidence: {} });
      queue.put({ ...entry, at: -1 });
      continue;
    }
    explain(candidate.parts, { mended: candidate.outcome.mended, score: candidate.score, evidence: candidate.evidence });
  }
  for (const [at, faults] of mendedTogether(ground, explanations, [...open])) {
    const found = explanations[at];
    if (found === undefined) continue;
    explanations[at] = { ...found, faults: [...found.faults, ...faults] };
    for (const fault of faults) open.delete(fault);
  }
  for (const pair of combine(ground, all, [...open])) explain(pair.changes, { ...pair, evidence: {} });
  // What can only be mended by breaking something else is said all the same, where it mends far more.
  for (const candidate of all.toSorted((one, other) => other.score - one.score)) {
    const { mended, broken } = candidate.outcome;
    const isUse = candidate.parts[0].change.kind === 'use';
    const places = mended.reduce((sum, fault) => sum + (isOpen(fault) ? fault.findings.length : 0), 0);
    const lost = broken.reduce((sum, each) => sum + each.places * (isUse && each.check === 'separation' ? MERGED_WORTH : WORTH), 0);
    if (lost > 0 && places >= lost) explain(candidate.parts, { mended, score: candidate.score, evidence: candidate.evidence });
  }
  for (const faults of lackingAlike(ground, open)) {
    const gap = unlikeGap(ground, isOpen, faults);
    if (gap !== null) explain(gap.parts, { mended: gap.outcome.mended, score: gap.score, evidence: gap.evidence });
  }
  return { explanations, unexplained: [...open] };
}

/** Share of what it mends that a change may show elsewhere when a token is said to serve nothing else (ours). */
const ELSEWHERE = 0.2;

/** ΔE OK of a new value that nobody notices where nothing was wrong: just noticeable (CSS Color 4 §13.2). */
const UNNOTICED = 0.02;

/**
 * A token that serves nothing else is to be mended: another one would only take its place; so is one that hardly has to move for it.
 * @returns new values of it that mend all that the gap would, theme by theme; empty where there are none
 */
function ownValuesFor(all: readonly Candidate[], gap: Candidate, isOpen: IsOpen): readonly Candidate[] {
  const asked = gap.outcome.mended.filter(isOpen);
  const [token, ...others] = new Set(asked.map(({ case: { fore } }) => (fore.kind === 'token' ? fore.token : -1)));
  if (token === undefined || token < 0 || others.length > 0) return [];
  const isOwn = ({ outcome, size, parts: [{ change }, ...more] }: Candidate): boolean =>
    change.kind === 'value' &&
    change.token === token &&
    more.length === 0 &&
    outcome.broken.length === 0 &&
    (outcome.bystanders <= ELSEWHERE * outcome.gain || size < UNNOTICED);
  const left = new Set(asked);
  const chosen = all
    .filter(isOwn)
    .toSorted((one, other) => other.score - one.score)
    .filter(({ outcome: { mended } }) => {
      const helps = mended.some((fault) => left.has(fault));
      for (const fault of mended) left.delete(fault);
      return helps;
    });
  return left.size === 0 ? chosen : [];
}

/** Faults of contrast of one declaration; where it was not looked up, of one colour on one surface. */
function lackingAlike({ world: { index } }: Ground, open: ReadonlySet<CaseFault>): Iterable<readonly CaseFault[]> {
  const groups = new Map<string, CaseFault[]>();
  for (const fault of open) {
    if (!isContrast(fault)) continue;
    const { fore, role, wrote } = fault.case;
    const declared = fore.kind === 'literal' ? wrote.at(-1) : undefined;
    const key = declared === undefined ? `${groundKey(index, fault.case)} ${refKey(fore)}` : `${role} ${JSON.stringify(declared)}`;
    appendTo(groups, key, fault);
  }
  return groups.values();
}

/** Faults that two or more of the changes mend together, though none does alone; each goes to the first that touches it. */
function mendedTogether(
  ground: Ground,
  explanations: readonly Explanation[],
  open: readonly CaseFault[],
): ReadonlyMap<number, readonly CaseFault[]> {
  const found = new Map<number, CaseFault[]>();
  const touching = explanations.map(({ changes }) => new Set(changes.flatMap((part) => part.recoloring.touched)));
  for (const fault of open) {
    const at = explanations.flatMap((_, each) => (touching[each]?.has(fault.case.id) === true ? [each] : []));
    const parts = at.flatMap((each) => explanations[each]?.changes ?? []).map((part) => part.recoloring);
    const [first] = at;
    if (first === undefined || parts.length < 2) continue;
    const together = parts.reduce(bothRecolorings);
    if (evaluate(ground.world, { ...together, touched: [fault.case.id] }).mended.includes(fault)) appendTo(found, first, fault);
  }
  return found;
}

function decisionsOf({ change }: Part): readonly string[] {
  if (change.kind !== 'value' && change.kind !== 'alias') return [];
  return change.themes.map((theme) => `${change.token} ${theme}`);
}

/** A surface with its inks: two changes may do as well. */
function isPanel({ parts: [{ change }] }: Candidate): boolean {
  return change.kind === 'use' && change.inks.length > 0;
}

/** Each proposal once, made concrete for all faults. */
function firstEntries(links: Links, isOpen: IsOpen): readonly Entry[] {
  const made = new Map<string, Entry | null>();
  for (const fault of links.ground.world.faults) {
    for (const proposal of proposalsFor(links, fault)) {
      if (made.has(proposal.key)) continue;
      const candidate = proposal.propose(isOpen);
      made.set(proposal.key, candidate === null ? null : { proposal, candidate, at: links.ground.world.faults.length });
    }
  }
  return [...made.values()].filter((entry) => entry !== null);
}

type Rivals = ReadonlyMap<CaseFault, readonly Candidate[]>;

function rivalsByFault(entries: readonly Entry[]): Rivals {
  const rivals = new Map<CaseFault, Candidate[]>();
  for (const { candidate } of entries) {
    for (const fault of candidate.outcome.mended) {
      appendTo(rivals, fault, candidate);
    }
  }
  return rivals;
}

/** The strongest candidate of another layer, for as much of these faults as it mends. */
function rivalOf(
  winner: { readonly layer: CauseLayer; readonly score: number },
  faults: readonly CaseFault[],
  rivals: Rivals,
): number {
  const shares = new Map<Candidate, number>();
  const all = faults.reduce((sum, fault) => sum + fault.weight, 0);
  for (const fault of faults) {
    for (const rival of rivals.get(fault) ?? []) {
      if (rival.layer !== winner.layer) shares.set(rival, (shares.get(rival) ?? 0) + fault.weight / all);
    }
  }
  let most = 0;
  // What else it would mend is not at stake here.
  for (const [rival, share] of shares) most = Math.max(most, rival.score * share * Math.min(1, all / rival.outcome.gain));
  return Math.min(1, most / winner.score);
}

/** Highest score first; of equals the one whose key comes first, so that nothing depends on the order of insertion. */
class Queue {
  readonly #heap: Entry[] = [];

  constructor(entries: readonly Entry[]) {
    for (const entry of entries) this.put(entry);
  }

  put(entry: Entry): void {
    const heap = this.#heap;
    heap.push(entry);
    let at = heap.length - 1;
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.#before(at, parent)) break;
      this.#swap(at, parent);
      at = parent;
    }
  }

  take(): Entry | undefined {
    const heap = this.#heap;
    const [first] = heap;
    const last = heap.pop();
    if (first === undefined || last === undefined || heap.length === 0) return first;
    heap[0] = last;
    let at = 0;
    for (;;) {
      const [left, right] = [2 * at + 1, 2 * at + 2];
      let next = at;
      if (left < heap.length && this.#before(left, next)) next = left;
      if (right < heap.length && this.#before(right, next)) next = right;
      if (next === at) return first;
      this.#swap(at, next);
      at = next;
    }
  }

  #before(one: number, other: number): boolean {
    const [a, b] = [this.#heap[one], this.#heap[other]];
    if (a === undefined || b === undefined) return false;
    return a.candidate.score !== b.candidate.score ? a.candidate.score > b.candidate.score : a.proposal.key < b.proposal.key;
  }

  #swap(one: number, other: number): void {
    const [a, b] = [this.#heap[one], this.#heap[other]];
    if (a !== undefined && b !== undefined) [this.#heap[one], this.#heap[other]] = [b, a];
  }
}
