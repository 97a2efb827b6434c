// Which rules may decide how places are painted, and where their text stands.

export interface WireRulesBehind {
  /** The page's style sheets: what is told of places holds where these are the same. */
  readonly key: string;
  readonly sheets: readonly WireSheet[];
  readonly rules: readonly WireRule[];
  /** One for each place; null where it cannot be told. */
  readonly places: readonly (WirePlaceBehind | null)[];
}

export interface WirePlaceBehind {
  /** Equal ones: painted by the same declarations. */
  readonly told: string;
  /** The element itself first (before it its part, where the place is one), then those around it; null where only the browser can tell. */
  readonly levels: readonly WireLevel[] | null;
}

export interface WireLevel {
  /** Indexes of rules that match and may have a part in it, each with those of its selectors that do, `&` resolved. */
  readonly rules: readonly (readonly [rule: number, selectors: readonly string[]])[];
  /** Text of the `style` attribute. */
  readonly inline: string | null;
  /** What attributes of a drawing say of the properties that have a part in it. */
  readonly attributes: readonly (readonly [property: string, value: string])[];
}

export interface WireSheet {
  /** Null: it has no file of its own. */
  readonly href: string | null;
  /** Of a sheet without one, told apart from other texts (text-print.ts). */
  readonly print: string | null;
}

export interface WireRule {
  /** Index of its sheet. */
  readonly sheet: number;
  /** Its selector as the browser has it, with those of the rules around in place of `&`. */
  readonly text: string;
  /** Of its cascade layer, '' for none. */
  readonly layer: string;
  /** Of the layer, lowest first. */
  readonly rank: number;
  /** In the page, later ones win. */
  readonly order: number;
  /** Selector of the outermost style rule it is in (or is), and which of those with that selector in the sheet. */
  readonly outer: string;
  readonly nth: number;
  readonly of: number;
  /** From there to what holds the declarations. */
  readonly steps: readonly WireStep[];
  /** Which of the runs of declarations there: what is nested parts them. */
  readonly piece: readonly [nth: number, of: number];
  /** What properties asked about are there, as the browser has it: scripts may have changed it since it was read. */
  readonly values: Readonly<Record<string, string>>;
}

/** Of those of one kind side by side. */
export interface WireStep {
  /** `rule`, or name of the at-rule. */
  readonly kind: string;
  readonly nth: number;
  readonly of: number;
}
