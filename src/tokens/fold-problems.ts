// Equal complaints about one file are one: a file in another notation would else be told of once for each of its lines.
import { groupBy } from './group-by.ts';
import type { ProblemCode, TokenProblem } from './problem.ts';

export interface FoldedProblem extends TokenProblem {
  /** How often it was met in the file; this is the first place. */
  readonly count: number;
  /** Tokens of the further places, a few of them. */
  readonly further: readonly string[];
}

/** Complaints about how things are written: what exactly stood there says less than how many there are. */
const OF_NOTATION: ReadonlySet<ProblemCode> = new Set([
  'not-a-node',
  'no-type',
  'maybe-token',
  'bad-value',
  'bad-fallback',
  'bad-name',
  'color-range',
  'hex-mismatch',
  'legacy-hex',
  'legacy-dimension',
  'legacy-nested-value',
  'unknown-property',
  'token-has-children',
]);
/** Fewer are each worth a line of their own (ours). */
const LEAST = 4;
const NAMED = 3;

/** @returns in the order of the first of each kind */
export function foldProblems(problems: readonly TokenProblem[]): readonly FoldedProblem[] {
  const kinds = groupBy(problems, ({ level, code, file, found, expected, hint }) =>
    JSON.stringify([level, code, file, expected, hint, OF_NOTATION.has(code) ? null : found]),
  );
  const folded = [...kinds.values()].flatMap((all): readonly FoldedProblem[] => {
    const [first, ...rest] = all;
    if (first === undefined) return [];
    const isFew = all.length < LEAST && new Set(all.map(({ found }) => found)).size > 1;
    if (rest.length === 0 || isFew) return all.map((each) => ({ ...each, count: 1, further: [] }));
    const names = [...new Set(rest.flatMap(({ token }) => (token === '' || token === first.token ? [] : [token])))];
    return [{ ...first, count: all.length, further: names.slice(0, NAMED) }];
  });
  const places = new Map(
    problems.map((problem, place) => [`${problem.code} ${problem.file}${problem.pointer} ${problem.token}`, place]),
  );
  const placeOf = ({ code, file, pointer, token }: FoldedProblem): number => places.get(`${code} ${file}${pointer} ${token}`) ?? 0;
  return folded.sort((a, b) => placeOf(a) - placeOf(b));
}

/** ` 201 times in this file, also at silt.200, silt.300 …`; '' where it was met once. */
export function timesMet({ count, further }: FoldedProblem): string {
  if (count === 1) return '';
  const names = further.length === 0 ? '' : `, also at ${further.join(', ')}${count - 1 > further.length ? ' …' : ''}`;
  return `${String(count)} times in this file${names}`;
}
