import { describe, expect, test } from 'vitest';
import type { Check } from '../../src/checks/check.ts';
import { ALL_CHECKS } from '../../src/checks/table.ts';
import type { FindingDraft } from '../../src/samples/finding.ts';
import { judge } from './made-samples.ts';
import type { ParameterCase, Scene } from './parameter-cases.ts';
import { PARAMETER_CASES } from './parameter-cases.ts';

// derived: each expected verdict follows from the value of the parameter and its own words ("from", "up to")
const all = ALL_CHECKS.flatMap((check) =>
  Object.entries(check.parameters).map(([name, parameter]) => ({ check, name, parameter })),
);

test('every parameter has a case, and no case is of a parameter that is gone', () => {
  expect(Object.keys(PARAMETER_CASES).sort()).toEqual(all.map(({ check, name }) => `${check.id}.${name}`).sort());
});

const look = (
  check: Check,
  { samples, reference, tone = 'dark' }: Scene,
  options: Record<string, number | string>,
): readonly FindingDraft[] => judge(check, samples, reference, options, tone);

describe.each(all.map((one) => [`${one.check.id}.${one.name}`, one] as const))('%s', (id, { check, name, parameter }) => {
  const found: ParameterCase | undefined = PARAMETER_CASES[id];
  if (found === undefined) return;
  if ('values' in found) {
    const [seen, silent] = found.values;
    test(`a fault is seen at ${String(seen)} and not at ${String(silent)}`, () => {
      expect(look(check, found.scene(), { ...found.options, [name]: seen })).not.toEqual([]);
      expect(look(check, found.scene(), { ...found.options, [name]: silent })).toEqual([]);
    });
    return;
  }
  const { scene, seen, step, other, options, measured } = found;
  const sees = found.sees ?? ((drafts: readonly FindingDraft[]) => drafts.length > 0);
  const isSeen = (quantity: number, given: Record<string, number>): boolean =>
    sees(look(check, scene(quantity), { ...options, ...given }));
  const start = Number(parameter.default);
  test.each([
    ['its default', start, {}],
    ['another value', other, { [name]: other }],
  ] as const)('the verdict turns at %s, %d', (_, value, given) => {
    const isUpward = seen === 'from' || seen === 'above';
    expect({ below: isSeen(value - step, given), above: isSeen(value + step, given) }).toEqual({
      below: !isUpward,
      above: isUpward,
    });
    if (measured !== true) expect(isSeen(value, given)).toBe(seen === 'from' || seen === 'upto');
  });
});
