// Does a token point where its kind points? Tokens on steps of one place in the reference theme mostly meet again in another theme,
// and tokens of one ramp mostly go to one ramp; who does neither stands out.
import { appendTo, byFrequency, commonest, median } from '../counting.ts';
import type { TableIndex } from './table-index.ts';

export interface SiblingOpinion {
  /** Steps that the siblings suggest, most agreed on first. */
  readonly expected: readonly number[];
  /** They agree, and the token stands clearly elsewhere: by at least two steps, or on another ramp. */
  readonly odd: boolean;
  /** They agree, and the token stands with them. */
  readonly usual: boolean;
  /** For the sentence that explains it. */
  readonly because: 'steps' | 'ramp' | 'none';
  /** What those asked do end on in the theme, most frequent first. */
  readonly pointTo: readonly number[];
  /** Too few stand on its very step, and those beside it were asked as well. */
  readonly asksNear: boolean;
}

export interface SiblingSteps {
  opinionOf(theme: number, token: number): SiblingOpinion;
}

const FEWEST_ASKED = 3;
/** Steps; a neighbour is within what designers vary (ours, on the steps of the harbour screens). */
const CLEARLY_ELSEWHERE = 2;
/** Share of the siblings that must go to one ramp to speak of a rule. */
const AGREEMENT = 0.7;
const SILENT: SiblingOpinion = { expected: [], odd: false, usual: false, because: 'none', pointTo: [], asksNear: false };

interface Standing {
  readonly ramp: number;
  readonly position: number;
}

export function openSiblingSteps(index: TableIndex): SiblingSteps {
  const { reference, tokens } = index.table;
  const standing = (theme: number, token: number): Standing | null => index.stepOf(index.rootOf(theme, token));
  /** Tokens that are no steps, by position and by ramp in the reference theme. */
  const byPosition = new Map<number, number[]>();
  const byRamp = new Map<number, number[]>();
  tokens.forEach((_, token) => {
    const at = index.stepOf(token) === null ? standing(reference, token) : null;
    if (at === null) return;
    appendTo(byPosition, at.position, token);
    appendTo(byRamp, at.ramp, token);
  });
  /** Where tokens of a group stand in a theme, each answer with its count. */
  const answers = new Map<string, readonly number[]>();
  const ask = (what: 'position' | 'ramp', theme: number, at: number): readonly number[] => {
    const key = `${what} ${theme} ${at}`;
    let found = answers.get(key);
    if (found === undefined) {
      const group = (what === 'position' ? byPosition : byRamp).get(at) ?? [];
      answers.set(key, (found = group.flatMap((token) => standing(theme, token)?.[what] ?? [])));
    }
    return found;
  };

  return {
    opinionOf: (theme, token) => {
      const before = standing(reference, token);
      const own = standing(theme, token);
      if (theme === reference || before === null) return SILENT;
      const others = (values: readonly number[], mine: number | undefined): readonly number[] =>
        mine === undefined ? values : values.toSpliced(values.indexOf(mine), 1);
      const same = others(ask('position', theme, before.position), own?.position);
      // Too few on the very step: those on its neighbours say about the same.
      const near = (shift: number): readonly number[] => ask('position', theme, before.position + shift);
      const positions = same.length >= FEWEST_ASKED ? same : [...near(-1), ...same, ...near(1)];
      const ramps = others(ask('ramp', theme, before.ramp), own?.ramp);
      if (positions.length < FEWEST_ASKED) return SILENT;
      const asksNear = same.length < FEWEST_ASKED;
      const asked = [-1, 0, 1].flatMap((shift) =>
        shift === 0 || asksNear ? (byPosition.get(before.position + shift) ?? []).filter((each) => each !== token) : [],
      );
      const ramp = ramps.length < FEWEST_ASKED ? before.ramp : commonest(ramps);
      const position = median(positions);
      // Those that stand about where most do: they bear the witness.
      const witnesses = asked
        .map((each) => index.rootOf(theme, each))
        .filter((root) => Math.abs((index.stepOf(root)?.position ?? Infinity) - position) <= 1);
      const said = { pointTo: byFrequency(witnesses), asksNear };
      const spread = median(positions.map((each) => Math.abs(each - position)));
      const rampAgrees = ramps.length >= FEWEST_ASKED && ramps.filter((each) => each === ramp).length >= AGREEMENT * ramps.length;
      const expected = [
        ...new Set([Math.round(position), ...positions.toSorted((a, b) => Math.abs(a - position) - Math.abs(b - position))]),
      ].flatMap((at) => index.stepsOf(ramp)[at] ?? []);
      // On no ramp at all, where those that share its ramp elsewhere keep to one.
      if (own === null) return { expected, odd: rampAgrees, usual: false, because: rampAgrees ? 'ramp' : 'none', ...said };
      if (rampAgrees && own.ramp !== ramp) return { expected, odd: true, usual: false, because: 'ramp', ...said };
      const away = Math.abs(own.position - position);
      const agree = spread <= 1;
      return {
        expected,
        odd: agree && away >= CLEARLY_ELSEWHERE && away > 1.5 * spread,
        usual: agree && away <= Math.max(1, spread),
        because: agree ? 'steps' : 'none',
        ...said,
      };
    },
  };
}
