// Where a cause's findings are in one view: what a repair that is tried is put on.
import type { Finding } from '../samples/finding.ts';
import type { Case } from './cases/case.ts';
import { ownRule } from './cases/own-rules.ts';
import type { World } from './world.ts';

export interface Places {
  readonly selectors: readonly string[];
  /** Those whose findings are of these cases. */
  readonly among: (cases: readonly Case[]) => readonly string[];
  /** Rules that paint those of these cases, where one finding stands for all the places that a rule paints alike. */
  readonly alike: (cases: readonly Case[]) => readonly string[];
  /** What fades them: the elements themselves, or such around them. */
  readonly fading: () => readonly string[];
}

/** @param here places in the list of findings: those of the cause in one view */
export function placesOf(world: World, here: readonly number[], findings: readonly Finding[]): Places {
  const selectorsOf = (places: readonly number[]): readonly string[] => [
    ...new Set(places.flatMap((at) => findings[at]?.selector ?? [])),
  ];
  const selectors = selectorsOf(here);
  const own = new Set(here);
  return {
    selectors,
    among: (cases) => {
      const theirs = new Set(cases.flatMap((one) => [...one.findings.values()].flat()));
      return selectorsOf(here.filter((at) => theirs.has(at)));
    },
    alike: (cases) => {
      const isFolded = (at: number): boolean => own.has(at) && Number(findings[at]?.measured['count'] ?? 1) > 1;
      const rules = cases.flatMap((one) =>
        [...one.findings.values()].flat().flatMap((at) => {
          const rule = isFolded(at) ? ownRule(one.written.get(at) ?? one.wrote) : undefined;
          return rule === undefined ? [] : [`${treeOf(findings[at]?.selector ?? '')}${rule}`];
        }),
      );
      return [...new Set(rules)];
    },
    // Of what is drawn it is not known: the opacity may be that of any element around.
    fading: () => {
      const fades = world.cases.flatMap(({ faded }) => [...faded].flatMap(([at, { selector }]) => (own.has(at) ? [selector] : [])));
      return fades.length > 0 ? [...new Set(fades)] : selectors.flatMap((selector) => [selector, `:has(${selector})`]);
    },
  };
}

export const STEP = ' >>> ';

/** The part of a selector that leads to the tree or frame that its element is in; empty for the page itself. */
export function treeOf(selector: string): string {
  const at = selector.lastIndexOf(STEP);
  return at < 0 ? '' : selector.slice(0, at + STEP.length);
}
