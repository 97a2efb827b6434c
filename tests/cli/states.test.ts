// A page in several states: what it shows at rest already is listed there only.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { gloam, quayApp } from './gloam.ts';

async function placesOf(folder: string, ...selection: readonly string[]): Promise<readonly string[]> {
  const { code, stderr } = await gloam(folder, 'run', '--export', 'out', ...selection);
  expect(code, stderr).toBe(0);
  return readFileSync(path.join(folder, 'out/findings.ndjson'), 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>)
    .map(({ theme, state, selector }) => [theme, state, selector].join(' '));
}

test('a fault of the page at rest is listed once, and in a state when that is all that is rendered', async () => {
  const folder = quayApp({ pages: [{ path: '/', states: ['pointed'] }], states: { pointed: { hover: 'h1' } } });
  expect(await placesOf(folder)).toEqual(['noon rest #weak']);
  expect(await placesOf(folder, '--state', 'pointed')).toEqual(['noon pointed #weak']);
});
