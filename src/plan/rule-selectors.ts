// The selectors of a configuration that hold for elements of any page, and where they stand.
import type { Configuration } from './configuration.ts';

export interface RuleSelector {
  /** As in `mask[2]`. */
  readonly at: string;
  readonly selector: string;
}

/** Exemptions of token faults alone name tokens, so they are left out. */
export function ruleSelectors({
  stay,
  mask,
  exempt,
  owners,
}: Pick<Configuration, 'stay' | 'mask' | 'exempt' | 'owners'>): readonly RuleSelector[] {
  return [
    ...stay.map(({ selector }, i) => ({ at: `stay[${i}]`, selector })),
    ...mask.map((selector, i) => ({ at: `mask[${i}]`, selector })),
    ...exempt.flatMap(({ selector, checks }, i) =>
      checks?.every((check) => check === 'token-fault') === true ? [] : [{ at: `exempt[${i}]`, selector }],
    ),
    ...owners.flatMap(({ selector }, i) => (selector === undefined ? [] : [{ at: `owners[${i}]`, selector }])),
  ];
}
