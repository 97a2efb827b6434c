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
  /** Why no `var()` may be put there; null where it may. */
  readonly keep: string | null;
}

export interface ReadSource {
  readonly kind: 'read';
  readonly literals: readonly SourceLiteral[];
  /** Custom properties (`--a`) and variables (`$a`) → properties and variables whose values mention them. */
  readonly uses: ReadonlyMap<string, ReadonlySet<string>>;
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
