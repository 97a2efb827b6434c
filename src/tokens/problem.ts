// What is wrong in token files: the codes, and one problem with its place. Codes of the Format, Color and Resolver modules 2025.10.
import type { Stretch } from './json/json-node.ts';
import { filePlace } from './json/file-place.ts';

export type ProblemLevel = 'error' | 'warning';

/** Every code with its level in default mode. */
export const PROBLEM_LEVELS = {
  'not-json-object': 'error',
  'duplicate-member': 'warning',
  'bad-name': 'error',
  'unknown-property': 'warning',
  'bad-property': 'warning',
  'not-a-node': 'error',
  'token-has-children': 'error',
  'maybe-token': 'warning',
  'case-only': 'warning',
  'no-type': 'error',
  'unknown-type': 'error',
  'bad-value': 'error',
  'color-range': 'error',
  'hex-mismatch': 'warning',
  // Side data: the colour is known without it.
  'bad-fallback': 'warning',
  'legacy-hex': 'warning',
  'legacy-dimension': 'warning',
  'legacy-nested-value': 'warning',
  'ref-syntax': 'error',
  'ref-unresolved': 'error',
  'ref-not-token': 'error',
  'ref-type': 'error',
  'ref-cycle': 'error',
  'ref-invalid-target': 'error',
  'ref-through-alias': 'warning',
  'ref-siblings': 'error',
  'value-and-ref': 'error',
  'extends-not-group': 'error',
  'extends-cycle': 'error',
  'extends-type': 'error',
  version: 'error',
  'order-missing': 'error',
  'bad-sources': 'error',
  'modifier-empty': 'error',
  'single-context': 'error',
  'default-not-context': 'error',
  'inline-name': 'error',
  'dup-name': 'error',
  'bad-pointer': 'error',
  'source-cycle': 'error',
  'source-missing': 'error',
  'remote-unsupported': 'error',
  'input-not-string': 'error',
  'input-unknown': 'error',
  'input-context': 'error',
  'input-missing': 'error',
  // Ours: what is written down and never read.
  'set-unused': 'warning',
  'no-tokens': 'warning',
  // Ours, where the reports are silent: limits against hostile files, group members that two files set differently
  // (the report on flattening says nothing), a `#` written without its slash, and a fallback that var() fell back on.
  'too-large': 'error',
  'too-deep': 'error',
  'group-differs': 'warning',
  'pointer-slash': 'warning',
  'fallback-used': 'warning',
} as const satisfies Record<string, ProblemLevel>;

export type ProblemCode = keyof typeof PROBLEM_LEVELS;

/** A fault as the reader meets it; the place is worked out when it becomes a problem. */
export interface FoundProblem {
  readonly code: ProblemCode;
  /** Path of the token, group or member meant; empty for a whole file. */
  readonly token: string;
  readonly at: Stretch;
  readonly found: string;
  readonly expected: string;
  readonly hint: string;
}

export type Report = (fault: FoundProblem) => void;

/** One thing that is wrong, for people and machines. */
export interface TokenProblem {
  readonly level: ProblemLevel;
  readonly code: ProblemCode;
  readonly token: string;
  readonly file: string;
  /** From 1; 0 where the problem has no place in a text (an input, for example). */
  readonly line: number;
  readonly column: number;
  /** JSON Pointer in that file. */
  readonly pointer: string;
  readonly found: string;
  readonly expected: string;
  readonly hint: string;
  /** Themes in which it occurs; empty when it lies in a file whatever the theme. */
  readonly themes: readonly string[];
}

/** Older notations are errors in strict mode. */
const STRICT_ERRORS: ReadonlySet<ProblemCode> = new Set(['legacy-hex', 'legacy-dimension', 'legacy-nested-value']);

export function levelOf(code: ProblemCode, strict: boolean): ProblemLevel {
  return strict && STRICT_ERRORS.has(code) ? 'error' : PROBLEM_LEVELS[code];
}

/** Keeps faults, each once, with the themes it was met in. */
export interface ProblemList {
  readonly add: (fault: FoundProblem, theme?: string) => void;
  readonly addAll: (faults: Iterable<FoundProblem>, theme?: string) => void;
  readonly hasErrorIn: (faults: readonly FoundProblem[]) => boolean;
  readonly toProblems: () => readonly TokenProblem[];
}

export function createProblemList(strict: boolean): ProblemList {
  const entries = new Map<string, { fault: FoundProblem; themes: string[] }>();
  const numberOfFile = new Map<string, number>();
  const add = (fault: FoundProblem, theme?: string): void => {
    const { file } = fault.at.source;
    const number = numberOfFile.get(file) ?? numberOfFile.size;
    numberOfFile.set(file, number);
    const key = `${fault.code} ${String(number)} ${String(fault.at.start)} ${fault.token}`;
    const entry = entries.get(key);
    if (entry === undefined) entries.set(key, { fault, themes: theme === undefined ? [] : [theme] });
    else if (theme !== undefined && entry.themes.length > 0 && !entry.themes.includes(theme)) entry.themes.push(theme);
  };
  return {
    add,
    addAll: (faults, theme) => {
      for (const fault of faults) add(fault, theme);
    },
    hasErrorIn: (faults) => faults.some(({ code }) => levelOf(code, strict) === 'error'),
    toProblems: () => [...entries.values()].map(({ fault, themes }) => toProblem(fault, themes, strict)).sort(byPlace),
  };
}

function toProblem(fault: FoundProblem, themes: readonly string[], strict: boolean): TokenProblem {
  const { code, token, found, expected, hint } = fault;
  const place = filePlace(fault.at);
  const { root, text } = fault.at.source;
  const known = root !== null || text !== '';
  return {
    level: levelOf(code, strict),
    code,
    token,
    ...place,
    ...(known ? {} : { line: 0, column: 0 }),
    found,
    expected,
    hint,
    themes,
  };
}

function byPlace(a: TokenProblem, b: TokenProblem): number {
  if (a.file !== b.file) return a.file < b.file ? -1 : 1;
  return a.line - b.line || a.column - b.column;
}

/** One line for people: `file:line:column`, what was found, what was expected, what to do. */
export function problemText(problem: TokenProblem): string {
  const { file, line, column, code, token, found, expected, hint } = problem;
  const where = line === 0 ? file : `${file}:${String(line)}:${String(column)}`;
  const subject = token === '' ? '' : ` ${token}:`;
  const advice = hint === '' ? '' : ` ${hint}`;
  return `${where}:${subject} found ${found}; expected ${expected}.${advice} [${code}]`;
}
