// Which exemption covers a finding: one table for checks, pictures and token files. Expected values: derived by hand from docs/exemptions.md.
import { describe, expect, test } from 'vitest';
import { exemptionOf } from '../../src/checks/exemption-cover.ts';
import type { Exemptible, ExemptionRule } from '../../src/checks/exemption-cover.ts';
import { exemptionFor } from '../../src/gate/exemption-for.ts';
import { CHECK_IDS } from '../../src/checks/table.ts';

const TODAY = '2031-05-04';
const AT: Exemptible = { check: 'glow', page: 'quay', theme: 'dusk', state: 'rest', selector: '#lamp' };
const FAULT: Exemptible = {
  check: 'token-fault',
  page: '(token files)',
  theme: 'noon',
  state: '',
  selector: 'silt.500',
  code: 'ramp-step-off-course',
};

const covers = (rule: Omit<ExemptionRule, 'why'>, finding: Exemptible, marks: readonly number[] = []): boolean =>
  exemptionOf(finding, [{ ...rule, why: 'known' }], TODAY, marks) !== undefined;

describe('an exemption covers', () => {
  test.each([
    ['what its page says it matches', { selector: '.lamp' }, AT, [0], true],
    ['nothing that only another one matches', { selector: '.lamp' }, AT, [1], false],
    ['the very element without a page', { selector: '#lamp' }, AT, [], true],
    ['a pseudo-element by its element', { selector: '#lamp' }, { ...AT, selector: '#lamp::before' }, [], true],
    ['the innermost element of a path', { selector: '#lamp' }, { ...AT, selector: 'quay-board >>> #lamp' }, [], true],
    ['a picture that drifted', { selector: '#lamp', checks: ['drift'] }, { ...AT, check: 'drift' }, [], true],
    ['a picture where something around it is named', { selector: 'main', checks: ['drift'] }, { ...AT, check: 'drift' }, [0], true],
    ['no other check', { selector: '#lamp', checks: ['neon'] }, AT, [0], false],
    ['a token by its path', { selector: 'silt.500' }, FAULT, [], true],
    ['a token in braces', { selector: '{silt.500}', checks: ['token-fault'] }, FAULT, [], true],
    ['tokens by a glob', { selector: 'silt.*' }, FAULT, [], true],
    ['every token', { selector: '*', checks: ['token-fault'] }, FAULT, [], true],
    ['no other token', { selector: 'silt.50' }, FAULT, [], false],
    ['one code of fault', { selector: 'silt.*', faults: ['ramp-step-off-course'] }, FAULT, [], true],
    ['no other code of fault', { selector: 'silt.*', faults: ['not-a-color'] }, FAULT, [], false],
    ['no token where it names pages', { selector: 'silt.*', pages: ['*'] }, FAULT, [], false],
    ['no token in another theme', { selector: 'silt.*', themes: ['dusk'] }, FAULT, [], false],
    ['no element where it names codes of token faults', { selector: '#lamp', faults: ['not-a-color'] }, AT, [0], false],
    ['a place in a token file', { selector: 'tokens/base.json#/silt' }, { ...FAULT, selector: 'tokens/base.json#/silt' }, [], true],
  ] as const)('%s', (_says, rule, finding, marks, expected) => {
    expect(covers(rule, finding, marks)).toBe(expected);
  });

  test.each(CHECK_IDS)('a finding of %s that it was made from, and so does not empty a name', (check) => {
    const { code, ...place } = check === 'token-fault' ? FAULT : { ...AT, check, code: '' };
    const exemption = exemptionFor({ ...place, measured: { code: code ?? '' } }, { why: 'known', any: [] });
    expect(exemptionOf({ ...place, code: code ?? '' }, [exemption], TODAY)).toBe(exemption);
    const { checks, faults = [], pages = [], themes = [], states = [] } = exemption;
    expect([...(checks ?? []), ...faults, ...pages, ...themes, ...states].every((name) => name !== '')).toBe(true);
  });
});
