// A linear programme, mixed-integer where a variable is a choice: what the palette asks of a solver. Types only; the solver is an argument.

export interface Variable {
  readonly lower: number;
  readonly upper: number;
  /** What one unit of it costs; the sum is made as small as possible. */
  readonly cost: number;
  /** 0 or 1 and nothing between. */
  readonly isChoice?: boolean;
}

export interface Term {
  /** Place in the list of variables. */
  readonly variable: number;
  readonly factor: number;
}

/** `lower` ≤ sum of the terms ≤ `upper`; a side that is absent is free. */
export interface Constraint {
  readonly terms: readonly Term[];
  readonly lower?: number;
  readonly upper?: number;
}

export interface Programme {
  readonly variables: readonly Variable[];
  readonly rows: readonly Constraint[];
}

export type Solved =
  | { readonly status: 'solved'; readonly values: readonly number[] }
  | { readonly status: 'infeasible' }
  /** Time ran out before anything was found, or the solver gave up: in its words. */
  | { readonly status: 'gave-up'; readonly why: string };

export type Solver = (programme: Programme) => Solved;
