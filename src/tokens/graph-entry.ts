// A resolved token of the file reader → an entry of the graph.
import type { Declaration, GraphEntry, HopKind, TypeFrom } from './graph.ts';
import type { JsonNode } from './json/json-node.ts';
import { filePlace } from './json/file-place.ts';
import { plainOf } from './json/plain-of.ts';
import type { ResolvedToken, TypeOrigin } from './resolved-token.ts';
import type { FlatToken } from './flatten.ts';
import type { Reading } from './read-value.ts';

export function graphEntry(resolved: ResolvedToken): GraphEntry {
  const { entry, typed, typeOrigin, next } = resolved;
  const { token, deprecated } = entry;
  const { node } = token;
  let declarations: readonly Declaration[] | null = null;
  return {
    path: token.path,
    value: typed,
    typeFrom: typeOrigin === null ? null : typeFrom(typeOrigin),
    next: next?.entry.token.path ?? null,
    how: next === null ? 'none' : hopKind(node.reading),
    copyOf: token.copyOf?.path ?? null,
    refers: refersOf(node.reading),
    deprecated,
    description: node.description,
    extensions: () => (node.extensions === null ? null : plainOf(node.extensions)),
    declarations: () => (declarations ??= declarationsOf(token)),
    governor: token.declared.at(-1)?.node.at ?? null,
  };
}

function typeFrom(origin: TypeOrigin): TypeFrom {
  switch (origin.kind) {
    case 'own':
      return { kind: 'own' };
    case 'reference':
      return { kind: 'reference', token: origin.token };
    case 'group':
      return { kind: 'group', group: origin.group };
  }
}

function hopKind(reading: Reading): HopKind {
  return reading.kind === 'curly' || reading.kind === 'pointer' ? reading.kind : 'none';
}

function refersOf(reading: Reading): readonly string[] {
  switch (reading.kind) {
    case 'curly':
      return [reading.path];
    case 'pointer':
      return [reading.target.path];
    case 'literal':
      return reading.mentions.map(({ path }) => path);
    case 'malformed':
    case 'siblings':
      return [];
  }
}

function declarationsOf(token: FlatToken): readonly Declaration[] {
  return token.declared.map(({ node, origin }, i) => ({
    ...filePlace(node.at),
    origin,
    raw: rawOf(node.value ?? node.at),
    wins: i === token.declared.length - 1,
  }));
}

/** Values may be long; what is kept for people is their beginning. */
const LONGEST_RAW = 500;

function rawOf(node: JsonNode): string {
  return node.source.text.slice(node.start, Math.min(node.end, node.start + LONGEST_RAW));
}
