// An app as data: tokens by theme, the places of its pages and what paints them. No browser; `paint-app.ts` turns it into samples.
import type { Color } from '../../src/colour/color.ts';
import type { TokenTable } from '../../src/triage/tokens/token-table.ts';

/** What a place paints with. */
export type Source =
  | { readonly kind: 'token'; readonly path: string }
  /** Written out. */
  | { readonly kind: 'literal'; readonly color: string };

export interface TextPlace {
  readonly kind: 'text';
  readonly page: string;
  readonly selector: string;
  readonly ink: Source;
  readonly on: readonly Source[];
  readonly opacity: number;
  readonly large: boolean;
}

export interface SurfacePlace {
  readonly kind: 'surface';
  readonly page: string;
  readonly selector: string;
  readonly fill: Source;
  readonly on: readonly Source[];
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  readonly stay?: 'dark' | 'light';
  /** Exempt by configuration: it must be seen from across the room. */
  readonly exempt?: true;
}

export interface GraphicPlace {
  readonly kind: 'graphic';
  readonly page: string;
  readonly selector: string;
  readonly role: 'icon' | 'border' | 'focus';
  readonly ink: Source;
  readonly on: readonly Source[];
}

export interface ShadowPlace {
  readonly kind: 'shadow';
  readonly page: string;
  readonly selector: string;
  readonly fall: Source;
  readonly on: readonly Source[];
}

export type PlaceModel = (TextPlace | SurfacePlace | GraphicPlace | ShadowPlace) & {
  /** Selector of the rule that paints it, where that was looked up. */
  readonly rule?: string;
  /** Selector of the element it lies on, where that is a place of its own. */
  readonly ground?: string;
};

export interface App {
  readonly table: TokenTable;
  readonly places: readonly PlaceModel[];
  /** What the page serves instead of what the files say: theme → token path → colour. */
  readonly stale: ReadonlyMap<string, ReadonlyMap<string, Color>>;
}
