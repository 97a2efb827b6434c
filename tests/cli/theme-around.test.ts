// Component libraries set their tokens on an element of theirs around the app, not on the root.
import { expect, test } from 'vitest';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Cause } from '../../src/samples/finding.ts';
import { folderWith, gloam } from './gloam.ts';

const NOON = '--face: #ffffff; --ink: #1b2a33; --quiet: #5a6b75';
const DUSK = '--face: #14202a; --ink: #e6eef2; --quiet: #a9b8c1';

/** A dialog beside the app has the theme of its own. */
const page = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Quay</title><style>
body { margin: 0 } .around { ${NOON} } .dusk .around { ${DUSK} }
.around { background: var(--face); color: var(--ink); min-height: 100vh } .quiet { color: var(--quiet) } .note { color: #8a8f93 }</style>
<body><div id="app"><div class="around"><main><h1>Quay</h1>${'<p>Low <b>water</b></p><p class="quiet">falling</p>'.repeat(8)}
<p class="note">since noon</p></main></div></div><div class="note-of-ours"></div></body></html>`;

test('are tokens of the page: a literal is to take one of them', async () => {
  const folder = folderWith({
    'site/index.html': page,
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
    }),
  });
  expect((await gloam(folder, 'run', '--export', 'out')).code).toBe(0);
  const causes = readFileSync(path.join(folder, 'out/causes.ndjson'), 'utf8').trim().split('\n');
  const [cause] = causes.map((line) => JSON.parse(line) as Cause).filter(({ repair }) => repair?.of === '.note');
  expect(cause).toMatchObject({ layer: 'usage', repair: { change: 'use', from: '#8a8f93', to: '--quiet', breaks: 0 } });
  expect((await gloam(folder, 'tokens')).stdout).toContain('3 tokens');
}, 60_000);
