// docs/architecture.md shows which folder imports which, drawn by dependency-cruiser. Written anew with
// `npx vitest run --project pure tests/folder-graph.test.ts -u`; fails where the page and the code differ.
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { cruise } from 'dependency-cruiser';
import type { ICruiseOptions } from 'dependency-cruiser';
import { expect, test } from 'vitest';

const root = path.resolve(import.meta.dirname, '..');
const PAGE = path.join(root, 'docs', 'architecture.md');
const GRAPH = /(?<=^## Folders\n[^]*?```mermaid\n)[^]*?(?=```)/m;

async function graph(): Promise<string> {
  const { default: settings } = (await import(path.join(root, '.dependency-cruiser.mjs'))) as {
    readonly default: { readonly options: object };
  };
  const options = {
    ...settings.options,
    baseDir: root,
    outputType: 'mermaid',
    collapse: '^(src/[^/]+|runner/page|report-ui/[^/]+|runner)(?=/)',
    includeOnly: '^(src|runner|report-ui)/',
    exclude: { path: '(^|/)dist/|\\.config\\.' },
  } as unknown as ICruiseOptions;
  const { output } = await cruise(['src', 'runner', 'report-ui'], options);
  if (typeof output !== 'string') throw new TypeError('mermaid is text');
  return `${output.trim()}\n`;
}

test('the graph of folders in docs/architecture.md is the one of the code', { timeout: 120_000 }, async () => {
  const page = readFileSync(PAGE, 'utf8');
  expect(page).toMatch(GRAPH);
  const drawn = await graph();
  // Every part is in it, and at least as many arrows as parts.
  for (const part of ['samples', 'colour', 'triage', 'ledger', 'cli', 'runner', 'server', 'web'])
    expect(drawn).toContain(`["${part}"]`);
  expect(drawn.match(/-->/g)?.length ?? 0).toBeGreaterThan(20);
  await expect(page.replace(GRAPH, () => drawn)).toMatchFileSnapshot('../docs/architecture.md');
});

test('each room of the divided parts is told in docs/architecture.md, and no room is told that is not there', () => {
  const page = readFileSync(PAGE, 'utf8');
  const rooms = ['runner', 'runner/page', 'src/triage', 'src/ledger'].flatMap((part) =>
    readdirSync(path.join(root, part), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => `${part}/${entry.name}`),
  );
  const told = [...page.matchAll(/^\| `([a-z/]+)` \|/gm)].map(([, room]) => room);
  expect(told.toSorted()).toEqual(rooms.filter((room) => room !== 'runner/page').toSorted());
});
