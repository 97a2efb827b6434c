// The token graph: what every token is in every theme, and how it comes by its value. Made from token files or from the custom
// properties of a page; everything else of gloam reads this and knows neither.
import type { Color } from '../colour/color.ts';
import type { Origin } from './flatten.ts';
import type { FilePlace } from './json/file-place.ts';
import type { TokenProblem } from './problem.ts';
import type { TypedValue } from './values/token-value.ts';

/** A value of one of the 13 types, or the text of a custom property that is none of them. */
export type GraphValue = TypedValue | { readonly type: 'text'; readonly value: string };

/** Where a token is defined: a set, a modifier's context, or a page's style sheets. */
export type DeclarationOrigin = Origin | { readonly kind: 'style' };

/** One place that defines a token. */
export interface Declaration extends FilePlace {
  readonly origin: DeclarationOrigin;
  /** As written. */
  readonly raw: string;
  /** The last one wins. */
  readonly wins: boolean;
}

/** How a hop is written: `{a.b}`, a JSON Pointer, `var(--a)`; `none` for the last, which has the literal. */
export type HopKind = 'curly' | 'pointer' | 'var' | 'none';

/** One token of a chain. */
export interface Hop extends FilePlace {
  readonly token: string;
  /** How it refers to the next. */
  readonly how: HopKind;
  /** The token it was copied from by `$extends`, whose place this is. */
  readonly copyOf: string | null;
}

/** Where a type was said. */
export type TypeFrom =
  | { readonly kind: 'own' }
  | { readonly kind: 'reference'; readonly token: string }
  | { readonly kind: 'group'; readonly group: string }
  /** Read from the text of a custom property. */
  | { readonly kind: 'text' };

interface Facts {
  readonly path: string;
  readonly theme: string;
  /** In the order met; the last one wins. */
  readonly declarations: readonly Declaration[];
  /** `true`, an explanation, or `false`. */
  readonly deprecated: boolean | string;
  readonly description: string | null;
  /** Untouched; null when there are none. */
  readonly extensions: unknown;
}

export type Resolution =
  | (Facts & {
      readonly kind: 'value';
      readonly value: GraphValue;
      readonly typeFrom: TypeFrom;
      /** First the token itself, last the one with the literal. */
      readonly chain: readonly Hop[];
    })
  | (Facts & {
      readonly kind: 'invalid';
      readonly problems: readonly TokenProblem[];
      /** As far as it could be followed. */
      readonly chain: readonly Hop[];
    })
  | { readonly kind: 'absent'; readonly path: string; readonly theme: string };

export interface TokenInfo {
  readonly path: string;
  /** Themes in which it exists. */
  readonly themes: readonly string[];
}

/** Ordered colours of one family. */
export interface Ramp {
  /** What the steps' paths share. */
  readonly family: string;
  /** Paths in order: by the number in their names, else as declared. */
  readonly steps: readonly string[];
  readonly told: 'configuration' | 'aliases';
}

export interface TokenGraph {
  readonly themes: readonly string[];
  /** All tokens of all themes. */
  readonly tokens: ReadonlyMap<string, TokenInfo>;
  readonly problems: readonly TokenProblem[];
  readonly ramps: readonly Ramp[];
  readonly resolve: (path: string, theme: string) => Resolution;
  /** In the order met, the last one wins; empty when absent. */
  readonly declarationsOf: (path: string, theme: string) => readonly Declaration[];
  /** Stands for the declaration that wins: equal (`===`) in two themes when one governs both; null when absent. Cheaper than its place. */
  readonly governor: (path: string, theme: string) => unknown;
  /** `true`, an explanation, or `false`. */
  readonly deprecationOf: (path: string, theme: string) => boolean | string;
  /** null when absent, invalid or no colour. */
  readonly colorOf: (path: string, theme: string) => Color | null;
  /** Tokens that refer to it directly, as an alias or inside a value; in any theme when none is named. */
  readonly users: (path: string, theme?: string) => readonly string[];
  /** Tokens whose value comes from it, directly or through others. */
  readonly dependents: (path: string, theme: string) => readonly string[];
  /** The last token of the chain: the one with the literal; null when absent. */
  readonly stepOf: (path: string, theme: string) => string | null;
}

/** A token of one theme as a reader hands it over; places are worked out only when asked for. */
export interface GraphEntry {
  readonly path: string;
  /** null when invalid. */
  readonly value: GraphValue | null;
  readonly typeFrom: TypeFrom | null;
  /** The token it is an alias of. */
  readonly next: string | null;
  readonly how: HopKind;
  readonly copyOf: string | null;
  /** Every token it refers to, `next` included. */
  readonly refers: readonly string[];
  readonly deprecated: boolean | string;
  readonly description: string | null;
  readonly extensions: () => unknown;
  readonly declarations: () => readonly Declaration[];
  /** See `TokenGraph.governor`. */
  readonly governor: unknown;
}

export interface ThemeEntries {
  readonly theme: string;
  readonly paths: readonly string[];
  readonly find: (path: string) => GraphEntry | undefined;
}
