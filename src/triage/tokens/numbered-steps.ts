// Steps of ramps as far as names say it: without token files nobody may point at a step, so that no ramp is known.
import { TRANSPARENT } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { TableIndex } from './table-index.ts';

const NUMBERED = /(?<=[a-z][-._]?)\d+$/iu;
/** Tokens of one name that differ in their number, from which they are steps (ours). */
const STEPS = 3;
/** From which such a family is a whole ramp: levels of surfaces are fewer (ours). */
const WHOLE_RAMP = 5;

function stemOf(path: string): string {
  return path.replace(NUMBERED, '');
}

/** `--grey-40` beside `--grey-50`, `--grey-60`. */
export function numberedSteps(index: TableIndex): ReadonlySet<number> {
  return new Set([...familiesOf(index).values()].flatMap((family) => (family.length >= STEPS ? family : [])));
}

/**
 * Steps of families that another one repeats, number by number: `--neutral-40` is `--grey-40`. They are no meanings that could be pointed
 * elsewhere one by one.
 */
export function repeatedSteps(index: TableIndex): ReadonlySet<number> {
  const { table } = index;
  const numberOf = (token: number): string => NUMBERED.exec(table.tokens[token]?.path ?? '')?.[0] ?? '';
  const families = [...familiesOf(index).values()]
    .filter((family) => family.length >= WHOLE_RAMP)
    .map((family) => ({ family, steps: new Map(family.map((token) => [numberOf(token), index.colorOf(table.reference, token)])) }));
  const repeats = (one: (typeof families)[number], other: (typeof families)[number]): boolean =>
    one !== other &&
    [...one.steps].every(([number, color]) => {
      const twin = other.steps.get(number) ?? null;
      return color !== null && twin !== null && toCssText(color) === toCssText(twin);
    });
  return new Set(families.flatMap((one) => (families.some((other) => repeats(one, other)) ? one.family : [])));
}

/** The same step in the family of another token, where it has one of this colour in all these themes; else the step itself. */
export function stepBeside(index: TableIndex, step: number, other: string, themes: readonly number[]): number {
  const number = NUMBERED.exec(index.pathOf(step))?.[0];
  const twin = number === undefined || !NUMBERED.test(other) ? -1 : index.tokenAt(stemOf(other) + number);
  const text = (theme: number, token: number): string => toCssText(index.colorOf(theme, token) ?? TRANSPARENT);
  return twin !== -1 && themes.every((theme) => text(theme, twin) === text(theme, step)) ? twin : step;
}

function familiesOf({ table }: TableIndex): ReadonlyMap<string, readonly number[]> {
  const families = new Map<string, number[]>();
  table.tokens.forEach(({ path }, token) => {
    if (!NUMBERED.test(path)) return;
    const family = families.get(stemOf(path)) ?? [];
    families.set(stemOf(path), family);
    family.push(token);
  });
  return families;
}
