import { describe, expect, test } from 'vitest';
import { describeChecks } from '../../src/checks/describe-checks.ts';
import { optionFaults } from '../../src/checks/option-faults.ts';
import { ALL_CHECKS, CHECK_IDS } from '../../src/checks/table.ts';
import { DRIFT_PARAMETERS } from '../../src/pictures/drift-parameters.ts';

describe('parameters of checks', () => {
  test('every check that may be configured is in the table, save the two made elsewhere', () => {
    expect(ALL_CHECKS.map((check) => check.id)).toEqual(CHECK_IDS.filter((id) => id !== 'drift' && id !== 'token-fault'));
  });

  const parameters = ALL_CHECKS.flatMap((check) =>
    Object.entries(check.parameters).map(([name, parameter]) => [`${check.id}.${name}`, parameter] as const),
  );
  test.each(parameters)('%s has a default inside its range, a reason and a source', (_, parameter) => {
    expect(parameter.about).toMatch(/\.$/);
    expect(parameter.source.length).toBeGreaterThan(10);
    if ('choices' in parameter) expect(parameter.choices).toContain(parameter.default);
    else {
      expect(parameter.default).toBeGreaterThanOrEqual(parameter.min);
      expect(parameter.default).toBeLessThanOrEqual(parameter.max);
    }
  });

  test.each([
    [{ glow: 'off' }, []],
    [{ glow: {} }, []],
    [{ glow: { leastGain: 3 } }, []],
    [{ glow: { leastGain: 0 } }, ['checks.glow.leastGain']],
    [{ glow: { leastGain: '3' } }, ['checks.glow.leastGain']],
    [{ glow: { leastGian: 3 } }, ['checks.glow']],
    [{ drift: { leastGain: 3 } }, ['checks.drift']],
    [{ 'text-contrast': { level: 'AAA' } }, []],
    [{ 'text-contrast': { level: 'A' } }, ['checks.text-contrast.level']],
    [{ neon: { leastArea: -1, leastSide: 4 } }, ['checks.neon.leastArea']],
  ] as const)('options %j have faults at %j', (checks, places) => {
    expect(optionFaults(checks).map((fault) => fault.at)).toEqual(places);
  });

  test('a fault says what was found and what would fit', () => {
    expect(optionFaults({ glow: { leastGain: 0 } })).toEqual([
      { at: 'checks.glow.leastGain', found: '0', expected: 'a number from 0.1 to 100 (L*; default 2)' },
    ]);
  });

  test('docs/checks.md is what the tables say', async () => {
    // Written with `npx vitest run tests/checks/parameters.test.ts -u`; fails where the page and the tables differ.
    await expect(describeChecks(DRIFT_PARAMETERS)).toMatchFileSnapshot('../../docs/checks.md');
  });

  test('every check says why, how, by which source, what it leaves alone and how to mend it', () => {
    const entries = describeChecks(DRIFT_PARAMETERS).split('\n## ').slice(1);
    expect(entries.map((entry) => /^`([^`]+)`/.exec(entry)?.[1])).toEqual(CHECK_IDS);
    for (const entry of entries) {
      for (const part of ['Left alone: ', '- **Why**: ', '- **How**: ', '- **Source**: ', '- **To mend it**: '])
        expect(entry).toContain(part);
    }
  });
});
