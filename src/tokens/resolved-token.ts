// What a token is in one permutation.
import type { JsonNode } from './json/json-node.ts';
import type { TokenEntry } from './list-tokens.ts';
import type { TypedValue } from './values/token-value.ts';

/** Where the type of a token was said: on itself, by the token it refers to, or on a group. */
export type TypeOrigin =
  | { readonly kind: 'own'; readonly at: JsonNode }
  | { readonly kind: 'reference'; readonly token: string }
  | { readonly kind: 'group'; readonly group: string; readonly at: JsonNode };

export interface ResolvedToken {
  readonly entry: TokenEntry;
  /** Place in the list of the permutation. */
  readonly index: number;
  /** null when the token is invalid; what is wrong is reported. */
  readonly typed: TypedValue | null;
  readonly typeOrigin: TypeOrigin | null;
  /** The token this one is an alias of. */
  readonly next: ResolvedToken | null;
}
