// What triage has to know of the tokens: in each theme the value or alias of every colour token, where that is declared, and its custom properties.
// Filled from the token graph or from the page's own style sheets; triage knows neither.
import type { Color } from '../../colour/color.ts';
import type { Tone } from '../../samples/view.ts';

export interface Declared {
  /** Equal in two themes when one declaration governs both: changing it changes both. */
  readonly id: string;
  readonly file?: string;
  /** 1-based. */
  readonly line?: number;
  /** JSON Pointer (RFC 6901) within the file, where it is a token file. */
  readonly pointer?: string;
}

/** What a token is in one theme. */
export type Definition =
  | { readonly kind: 'literal'; readonly color: Color; readonly declared: Declared }
  /** `target`: token path without braces. */
  | { readonly kind: 'alias'; readonly target: string; readonly declared: Declared };

export interface TokenEntry {
  /** Path joined by dots; for an app without token files, the name of the custom property. */
  readonly path: string;
  /** Custom properties that carry it, with their dashes. */
  readonly properties: readonly string[];
  /** Its value is more than a colour (a shadow, a border): it cannot point at a step of a ramp. */
  readonly isComposite?: true;
  /**
   * It is a colour only within a function: bare numbers (`--rgb: 34 52 81`), or a function of several properties that no property
   * carries. Nothing can point at it.
   */
  readonly isBare?: true;
  /** How its colour is built from custom properties, where it is; one a theme. */
  readonly built?: readonly (Built | null)[];
  /** One a theme, in the order of `themes`; null where the token does not exist or is no colour. */
  readonly definitions: readonly (Definition | null)[];
}

/** A colour function that takes numbers from custom properties. */
export interface Built {
  /** `hsl(var(--h) 60% var(--l))`. */
  readonly text: string;
  /** Texts of its properties in the theme. */
  readonly numbers: ReadonlyMap<string, string>;
}

export interface RampEntry {
  readonly name: string;
  /** Token paths in the order of the ramp. */
  readonly steps: readonly string[];
}

export interface TableTheme {
  readonly name: string;
  readonly tone: Tone;
}

/** Theme, property that a component sets for itself, and its colour there (`localKey`) → the property that it takes it from. */
export type LocalLinks = ReadonlyMap<string, string>;

export function localKey(theme: string, property: string, color: string): string {
  return `${theme}\n${property}\n${color}`;
}

export interface TokenTable {
  /** For apps without token files, as far as declarations were looked up. */
  readonly locals?: LocalLinks;
  readonly themes: readonly TableTheme[];
  /** Place of the reference theme in `themes`. */
  readonly reference: number;
  readonly tokens: readonly TokenEntry[];
  readonly ramps: readonly RampEntry[];
}
