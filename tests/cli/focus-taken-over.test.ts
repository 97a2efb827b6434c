// Focus states on a night after: what they show is held against the page at rest.
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { folderWith } from './gloam.ts';
import { facts, night } from './night-facts.ts';

test('what focus shows is taken over with the page at rest, and read anew where only that has changed', async () => {
  const lamp = (color: string): string =>
    `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="20"><rect width="40" height="20" fill="${color}"/></svg>`;
  const folder = folderWith({
    'site/index.html':
      '<!doctype html><title>Quay</title><style>.dusk { background: #111 } button { border: 0; background: url(lamp.svg) } button:focus { background: #8cf; outline: none }</style><button id="moor">Moor</button>',
    'site/lamp.svg': lamp('#9cf'),
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: [{ path: '/', states: ['focused'] }],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      states: { focused: { focus: '#moor' } },
    }),
  });
  await night(folder);
  const before = await facts(folder);
  expect(before['samples']?.join('\n')).toContain('"role":"focus"');
  expect((await night(folder)).unchanged).toBe(4);
  expect(await facts(folder)).toEqual(before);

  // Focused the page has the same picture as before.
  writeFileSync(path.join(folder, 'site/lamp.svg'), lamp('#123'));
  expect((await night(folder)).unchanged).toBe(0);
  const turned = await facts(folder);
  expect(turned).not.toEqual(before);
  await night(folder, '--anew');
  expect(await facts(folder)).toEqual(turned);
}, 240_000);
