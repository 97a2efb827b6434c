// What travels while colours are traced to custom properties. Types only; both sides import them.

import type { Note } from '../../../src/samples/note.ts';

/** A custom property that the page's style sheets, inline styles or our own list name. */
export interface WireProperty {
  readonly name: string;
  /**
   * What it holds: one colour; the bare channels of one (`12, 34, 56`); a single number that some colour is built with (`348deg`, `70%`);
   * a value with colours in it (a shadow list, a gradient); or nothing that could be dyed.
   */
  readonly kind: 'color' | 'channels' | 'number' | 'mixed' | 'other';
  /** A computed value of it; empty where it is declared nowhere, for `mixed` with `\u0001` in place of each colour. */
  readonly value: string;
  /** False where it is only referred to: its `var()` falls back. */
  readonly declared: boolean;
  /** No declaration of it refers to another custom property. */
  readonly leaf: boolean;
  /** Only roots of documents declare it, and all else inherits it from there. */
  readonly rootOnly: boolean;
}

/** A value as the page computes it: on the root, and where a scope declares it again. */
export interface WireServed {
  readonly name: string;
  readonly value: string;
  /** Empty where nothing declares it and all its uses fall back to one colour. */
  readonly at: string;
  /** Nearly all of the page lies in that element. */
  readonly wide?: true;
}

export interface WireProperties {
  readonly properties: readonly WireProperty[];
  readonly served: readonly WireServed[];
  /** Some colour is written with `light-dark()`. */
  readonly lightDark: boolean;
  readonly notes: readonly Note[];
}

/** One colour asked about: element (or pseudo-element) by index into `selectors`, CSS property, colour as collected. */
export type WireAsk = readonly [selector: number, property: string, color: string];

export interface DyeCalls {
  readonly findProperties: { readonly args: { readonly known: readonly string[] }; readonly result: WireProperties };
  /** Remembers what `dyed` reads. */
  readonly ask: {
    readonly args: { readonly selectors: readonly string[]; readonly asks: readonly WireAsk[] };
    readonly result: null;
  };
  /**
   * Puts style sheets on every tree of the page, one after the other, reads with each the computed values of all that was asked (null:
   * the element is gone), and takes them away; all in one go, so that nothing is ever drawn with them.
   */
  readonly dyed: {
    /** `only`: indexes of asks; all when absent. */
    readonly args: { readonly sheets: readonly string[]; readonly only?: readonly number[] };
    /** One reading a sheet. */
    readonly result: readonly (readonly (string | null)[])[];
  };
}
