import { expect, test } from 'vitest';
import { describeConfiguration } from '../../src/config/describe-configuration.ts';

// Written with `npx vitest run tests/config/reference.test.ts -u`; fails where the page and the schema differ.
test('docs/configuration.md says what the schema says', async () => {
  await expect(describeConfiguration()).toMatchFileSnapshot('../../docs/configuration.md');
});

test('every member says what it means', () => {
  const silent = describeConfiguration()
    .split('\n')
    .filter((line) => line.startsWith('| `') && line.endsWith('|  |'));
  expect(silent).toEqual([]);
});
