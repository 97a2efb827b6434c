// What may be wrong with a set of tokens besides what its reader reports: the codes, and one fault with its evidence.
import type { TokenGraph } from '../graph.ts';

export type FaultLevel = 'error' | 'warning' | 'note';

/** Where it lies: a ramp's values, a token's definition, a hole in the set; `unknown` where it cannot be told. */
export type FaultLayer = 'ramp' | 'token' | 'gap' | 'unknown';

/** Every code with its level and layer. What is said of a ramp is an opinion about design, and no error; what breaks the page is one. */
export const FAULT_CODES = {
  'ramp-reversal': { level: 'warning', layer: 'ramp' },
  'ramp-spacing': { level: 'note', layer: 'ramp' },
  'ramp-off-curve': { level: 'warning', layer: 'ramp' },
  'ramp-off-course': { level: 'warning', layer: 'ramp' },
  'ramp-hue-drift': { level: 'note', layer: 'ramp' },
  'ramp-out-of-gamut': { level: 'note', layer: 'ramp' },
  'ramp-twins': { level: 'warning', layer: 'ramp' },
  'ramps-alike': { level: 'note', layer: 'ramp' },
  'ramp-step-missing': { level: 'warning', layer: 'ramp' },
  'override-missing': { level: 'warning', layer: 'token' },
  'token-missing': { level: 'error', layer: 'token' },
  'alias-other-family': { level: 'warning', layer: 'token' },
  'alias-out-of-line': { level: 'warning', layer: 'token' },
  'literal-among-aliases': { level: 'warning', layer: 'token' },
  'deprecated-used': { level: 'warning', layer: 'token' },
  'never-used': { level: 'note', layer: 'token' },
  'pair-contrast': { level: 'error', layer: 'token' },
} as const satisfies Record<string, { readonly level: FaultLevel; readonly layer: FaultLayer }>;

export type FaultCode = keyof typeof FAULT_CODES;

/** Named numbers and texts; what they are is said by their names. */
export type Measures = Readonly<Record<string, number | string>>;

export interface TokenFault {
  readonly code: FaultCode;
  readonly level: FaultLevel;
  readonly layer: FaultLayer;
  /** The token or step at fault. */
  readonly token: string;
  /** Tokens it was judged against. */
  readonly others: readonly string[];
  readonly themes: readonly string[];
  readonly measured: Measures;
  readonly expected: Measures;
  /** One sentence a designer understands. */
  readonly message: string;
  /** Where the token is defined in the first of the themes; empty and 0 where that cannot be told. */
  readonly file: string;
  readonly line: number;
}

/** A fault before its place is looked up; level and layer are the code's unless said. */
export type FaultFacts = Omit<TokenFault, 'level' | 'layer' | 'file' | 'line'> & {
  readonly level?: FaultLevel;
  readonly layer?: FaultLayer;
};

export function tokenFault(graph: TokenGraph, facts: FaultFacts): TokenFault {
  const { level, layer } = FAULT_CODES[facts.code];
  return { ...facts, level: facts.level ?? level, layer: facts.layer ?? layer, ...placeIn(graph, facts.token, facts.themes) };
}

function placeIn(graph: TokenGraph, token: string, themes: readonly string[]): { readonly file: string; readonly line: number } {
  for (const theme of [...themes, ...graph.themes]) {
    const place = graph.declarationsOf(token, theme).at(-1);
    if (place !== undefined) return { file: place.file, line: place.line };
  }
  return { file: '', line: 0 };
}

/** The same fault in several themes is one, with the measures of the first theme. */
export function mergeThemes(faults: readonly FaultFacts[]): readonly FaultFacts[] {
  const merged = new Map<string, FaultFacts>();
  for (const fault of faults) {
    const key = `${fault.code} ${fault.token} ${fault.others.join(' ')}`;
    const known = merged.get(key);
    merged.set(key, known === undefined ? fault : { ...known, themes: [...new Set([...known.themes, ...fault.themes])] });
  }
  return [...merged.values()];
}

/** `a`, `a and b`, `a, b and 3 more`. */
export function listed(words: readonly string[], most = 4): string {
  const shown = words.slice(0, most);
  const rest = words.length - shown.length;
  if (rest > 0) return `${shown.join(', ')} and ${String(rest)} more`;
  if (shown.length < 2) return shown.join('');
  return `${shown.slice(0, -1).join(', ')} and ${shown.at(-1) ?? ''}`;
}

/** For people: one decimal. */
export function shown(value: number): string {
  return String(Number(value.toFixed(1)));
}
