// Tokens of one permutation → values (Format 2025.10, sections 5–7), in an order in which every target comes before what refers
// to it; loops are found first. What is the same as in the permutation before is taken over from it.
import type { FlatGroup } from './flatten.ts';
import { createFollower } from './follow-reference.ts';
import type { Source } from './json/json-node.ts';
import type { TokenEntry } from './list-tokens.ts';
import type { FoundProblem, Report } from './problem.ts';
import type { Reading } from './read-value.ts';
import { isAlias } from './read-value.ts';
import type { LiteralReadings, Outcome } from './resolve-one.ts';
import { createTokenReader } from './resolve-one.ts';
import type { ResolvedToken } from './resolved-token.ts';
import { strongComponents } from './strong-components.ts';

export interface ResolveOptions {
  readonly root: FlatGroup;
  readonly strict: boolean;
  /** Shared by all permutations: literals without references read the same in each. */
  readonly literals: LiteralReadings;
  /** Texts that are resolver documents: pointers in their inline tokens may address the document (F7.2.1 is silent). */
  readonly documents: ReadonlySet<Source>;
  readonly report: Report;
  readonly previous: ResolvedTokens | null;
}

export interface ResolvedTokens {
  readonly entries: readonly TokenEntry[];
  readonly indexOf: ReadonlyMap<string, number>;
  readonly results: readonly (ResolvedToken | undefined)[];
  /** Tokens about which something was reported: it must be reported again in the next permutation. */
  readonly reported: ReadonlySet<number>;
}

/** Not looked at yet; on a chain that is being walked or is resolved; on one that did not end. */
const [NEW, WALKED, LEFT] = [0, 1, 2];
const NO_EDGES: readonly number[] = [];
const FAILED: Outcome = { typed: null, typeOrigin: null, next: null };

export function resolveTokens(entries: readonly TokenEntry[], options: ResolveOptions): ResolvedTokens {
  const { strict, literals } = options;
  const previous = options.previous !== null && samePaths(entries, options.previous.entries) ? options.previous : null;
  const indexOf = previous?.indexOf ?? indexPaths(entries);
  const results = new Array<ResolvedToken | undefined>(entries.length).fill(undefined);
  const reported = new Set<number>();
  let current = -1;
  const report = (fault: FoundProblem): void => {
    reported.add(current);
    options.report(fault);
  };
  const resolved = (path: string): ResolvedToken | undefined => results[indexOf.get(path) ?? -1];
  const follower = createFollower({ ...options, entries, indexOf, resolved });
  const read = createTokenReader({ strict, literals, follower, report });

  // Most tokens are literals, or aliases of aliases of literals; only what is left may hold a loop.
  const state = new Uint8Array(entries.length);
  const left = [...entries.keys()].filter((i) => !resolveChain(i));
  for (const component of strongComponents(entries.length, left, (i) =>
    results[i] === undefined ? edgesOf(i, false) : NO_EDGES,
  )) {
    const [only] = component;
    if (component.length === 1 && only !== undefined && !edgesOf(only, false).includes(only)) resolve(only);
    else resolveEntangled(component);
  }
  return { entries, indexOf, results, reported };

  /** @returns false when the chain from here does not end in a literal without references */
  function resolveChain(start: number): boolean {
    const chain: number[] = [];
    for (let i: number | undefined = start; i !== undefined && results[i] === undefined;) {
      const reading: Reading | undefined = entries[i]?.token.node.reading;
      const ends: boolean = reading?.kind === 'literal' && reading.mentions.length === 0;
      chain.push(i);
      if (state[i] !== NEW || (reading?.kind !== 'curly' && !ends)) {
        for (const each of chain) state[each] = LEFT;
        return false;
      }
      state[i] = WALKED;
      i = ends ? undefined : targetOf(i, reading);
    }
    for (const i of chain.reverse()) resolve(i);
    return true;
  }

  function targetOf(i: number, reading: Reading | undefined): number | undefined {
    if (reading?.kind !== 'curly') return undefined;
    const before = previous?.results[i];
    // The same entry has the same target, whose place in the list is known from the permutation before.
    return before?.next != null && before.entry === entries[i] ? before.next.index : indexOf.get(reading.path);
  }

  function edgesOf(i: number, wholeOnly: boolean): readonly number[] {
    const reading = entries[i]?.token.node.reading;
    switch (reading?.kind) {
      case 'curly':
        return edgeTo(reading.path);
      case 'pointer':
        return wholeOnly && !isAlias(reading) ? NO_EDGES : edgeTo(reading.target.path);
      case 'literal':
        if (reading.mentions.length === 0) return NO_EDGES;
        return reading.mentions.flatMap((mention) => (mention.whole || !wholeOnly ? edgeTo(mention.path) : NO_EDGES));
      case 'malformed':
      case 'siblings':
      case undefined:
        return NO_EDGES;
    }
  }

  function edgeTo(path: string): readonly number[] {
    const i = indexOf.get(path);
    return i === undefined ? NO_EDGES : [i];
  }

  /** Tokens that refer to each other: a loop only where whole values do; parts may be borrowed both ways. */
  function resolveEntangled(component: readonly number[]): void {
    const local = new Map(component.map((i, at) => [i, at]));
    const wholeEdges = (at: number): readonly number[] =>
      edgesOf(component[at] ?? -1, true)
        .map((i) => local.get(i))
        .filter((index) => index !== undefined);
    for (const part of strongComponents(component.length, component.keys(), wholeEdges)) {
      const looped = part.length > 1 || part.some((at) => wholeEdges(at).includes(at));
      const indices = part.map((at) => component[at]).filter((i) => i !== undefined);
      for (const i of indices) {
        if (looped) failLoop(i, indices);
        else resolve(i);
      }
    }
  }

  function failLoop(i: number, loop: readonly number[]): void {
    const entry = entries[i];
    if (entry === undefined) return;
    const { path, node } = entry.token;
    const others = loop.slice(0, 8).map((index) => entries[index]?.token.path ?? '');
    const found = `a loop of references: ${others.join(', ')}${loop.length > 8 ? ', …' : ''}`;
    const hint = 'Give one of them a value of its own.';
    current = i;
    report({ code: 'ref-cycle', token: path, at: node.value ?? node.at, found, expected: 'a chain that ends in a value', hint });
    results[i] = { entry, index: i, ...FAILED };
  }

  function resolve(i: number): void {
    const entry = entries[i];
    if (entry === undefined || results[i] !== undefined) return;
    current = i;
    results[i] = unchanged(i, entry) ?? { entry, index: i, ...read(i, entry) };
  }

  /** The result of the permutation before, if nothing that goes into it differs. */
  function unchanged(i: number, entry: TokenEntry): ResolvedToken | null {
    const before = previous?.results[i];
    if (before?.entry !== entry || before.typed === null || previous?.reported.has(i) === true) return null;
    if (before.next !== null) return results[before.next.index] === before.next ? before : null;
    const { reading } = entry.token.node;
    return reading.kind === 'literal' && reading.mentions.length === 0 ? before : null;
  }
}

function indexPaths(entries: readonly TokenEntry[]): ReadonlyMap<string, number> {
  const indexOf = new Map<string, number>();
  for (const [i, { token }] of entries.entries()) indexOf.set(token.path, i);
  return indexOf;
}

function samePaths(a: readonly TokenEntry[], b: readonly TokenEntry[]): boolean {
  return a.length === b.length && a.every(({ token }, i) => token.path === b[i]?.token.path);
}
