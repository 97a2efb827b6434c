// A page in several states: what it shows at rest already is listed there only.
import { readFileSync, writeFileSync } from 'node:fs';
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

test('a state in which nothing is seen to happen is told, and the gate says no', async () => {
  const folder = quayApp({
    pages: [{ path: '/', states: ['menu', 'nothing', 'walked'] }],
    states: { menu: { click: '#menu' }, nothing: { click: '#weak' }, walked: { hover: '*' } },
    gate: { noon: {}, dusk: { idle: 1 } },
  });
  writeFileSync(
    path.join(folder, 'site/index.html'),
    '<!doctype html><title>Quay</title><style>.dusk { background: #123; color: #fff }</style><button id="menu" onclick="this.textContent = `Open`">Menu</button><p id="weak">Low water</p>',
  );
  const run = await gloam(folder, 'run', '--json');
  const { doubts } = JSON.parse(run.stdout) as { doubts: readonly Readonly<Record<string, string>>[] };
  expect(doubts.map(({ kind, view, says }) => [kind, view?.split('/').slice(0, -1).join('/'), says])).toEqual([
    ['idle', 'index@noon/nothing', 'looks as at rest'],
    ['idle', 'index@dusk/nothing', 'looks as at rest'],
  ]);
  const noon = await gloam(folder, 'gate', '--theme', 'noon');
  expect([noon.code, noon.stdout]).toEqual([1, expect.stringContaining('1 view in a state that looks as at rest')]);
});
