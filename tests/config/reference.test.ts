import { readFileSync } from 'node:fs';
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

test('every member has an example in docs/members.md', () => {
  const examples = [...readFileSync('docs/members.md', 'utf8').matchAll(/```json\n([\s\S]*?)```/g)].join('\n');
  const members = [...describeConfiguration().matchAll(/^\| `([^`]+)`/gm)].map(([, name = '']) => name);
  expect(members.length).toBeGreaterThan(80);
  // The last name of the path; `*` is a name of one's own.
  const shown = (member: string): boolean => examples.includes(`"${/([^.*[\]]+)(?:\[\])?(?:\.\*)?$/.exec(member)?.[1] ?? ''}"`);
  expect(members.filter((member) => !shown(member))).toEqual([]);
});
