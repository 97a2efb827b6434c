// What reading a source file yields: its literal colours, each with its place, and how its variables are used.
import type { Color } from '../colour/color.ts';
import type { Role } from '../tokens/roles.ts';

export interface SourceLiteral {
  /** Offsets in the text, `end` exclusive. */
  readonly start: number;
  readonly end: number;
  /** From 1. */
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly color: Color;
  readonly named: boolean;
  /** CSS property, custom property or variable of the declaration; empty where there is none. */
  readonly property: string;
  /** null where the property does not say, as of a custom property. */
  readonly role: Role | null;
  /** Selectors and at-rules around it, outermost first. */
  readonly scopes: readonly string[];
  /** What its rule puts beneath it, or for a surface on it, where the same rule says so. */
  readonly beside?: RuleColor;
  /** Why no `var()` may be put there; null where it may. */
  readonly keep: string | null;
}

/** A colour that the same rule declares: through a custom property, or as a literal. */
export type RuleColor = { readonly kind: 'property'; readonly name: string } | { readonly kind: 'color'; readonly color: Color };

export interface ReadSource {
  readonly kind: 'read';
  readonly literals: readonly SourceLiteral[];
  /** Custom properties (`--a`) and variables (`$a`) → properties and variables whose values mention them. */
  readonly uses: ReadonlyMap<string, ReadonlySet<string>>;
  /** Custom properties that are declared here, each with the line of the first declaration. */
  readonly defines?: ReadonlyMap<string, number>;
}

export interface UnreadableSource {
  readonly kind: 'unreadable';
  readonly line: number;
  readonly column: number;
  readonly reason: string;
}

export function isVariable(property: string): boolean {
  return property.startsWith('--') || property.startsWith('$');
}
