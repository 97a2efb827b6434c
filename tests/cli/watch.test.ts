// gloam run --watch in a real browser: what a saved file touches is rendered again, and what became of the causes is told.
import { appendFileSync, existsSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterEach, describe, expect, test } from 'vitest';
import { folderWith, gloam, start } from './gloam.ts';
import type { Started } from './gloam.ts';

const page = (title: string, sheet: string): string =>
  `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>${title}</title><link rel="stylesheet" href="${sheet}"></head>
  <body><h1>${title}</h1><p class="tide">Low water at noon</p></body></html>`;

const sheet = (ink: string): string =>
  `html { background: #fff; color: #111; --ink: ${ink} } html.dusk { background: #101418; color: #eee; --ink: #bbb } .tide { color: var(--ink) }`;

const tokens = (ink: string): string =>
  JSON.stringify({ ink: { $type: 'color', $value: { colorSpace: 'srgb', components: [0.1, 0.1, 0.1], hex: ink } } });

/** Two pages with a style sheet each; the quay's ink is too weak at noon. */
function tideApp(more: Readonly<Record<string, unknown>> = {}): string {
  const config = {
    app: { serve: 'site' },
    pages: ['/quay.html', '/board.html'],
    themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
    ...more,
  };
  return folderWith({
    'site/quay.html': page('Quay', 'quay.css'),
    'site/quay.css': sheet('#aaa'),
    'site/board.html': page('Board', 'board.css'),
    'site/board.css': sheet('#333'),
    'tokens.json': tokens('#1a1a1a'),
    'gloam.config.json': JSON.stringify(config),
  });
}

/** As most editors save: a new file takes the place of the old one. */
function save(folder: string, name: string, text: string): void {
  const place = path.join(folder, name);
  writeFileSync(`${place}.part`, text);
  renameSync(`${place}.part`, place);
}

/** Processes whose parent, or its parent, is this one. */
function offspring(pid: number): readonly number[] {
  const parents = readdirSync('/proc').flatMap((name) => {
    if (!/^\d+$/.test(name)) return [];
    try {
      const fields = readFileSync(`/proc/${name}/stat`, 'utf8')
        .replace(/^.*\) /su, '')
        .split(' ');
      return [{ pid: Number(name), parent: Number(fields[1]) }];
    } catch {
      return [];
    }
  });
  const children = parents.filter(({ parent }) => parent === pid).map((one) => one.pid);
  return [...children, ...children.flatMap(offspring)];
}

let running: Started | undefined;
afterEach(() => {
  running?.kill('SIGKILL');
  running = undefined;
});

describe('gloam run --watch', () => {
  test('a mended style sheet: only its page is rendered again, the cause is gone; Ctrl-C ends with 0 and leaves nothing', async () => {
    const folder = tideApp();
    running = start(folder, ['run', '--watch']);
    const first = await running.printed('Ctrl-C ends');
    expect(first).toMatch(/4 views of 4 in .* s\n {2}cause +1 {2}/);
    expect(first).toContain('1 finding.');

    save(folder, 'site/quay.css', sheet('#555'));
    const second = await running.printed('No findings (were 1)');
    expect(second).toMatch(/quay\.css changed: 2 views of 4 in/);
    expect(second).toMatch(/ {2}gone +1 {2}/);

    save(folder, 'site/quay.css', sheet('#999'));
    expect(await running.printed(/1 finding \(were 0\)/)).toMatch(/ {2}new +1 {2}/);

    const children = offspring(running.pid);
    expect(children.length).toBeGreaterThan(0);
    running.kill('SIGINT');
    const { code } = await running.ended;
    expect(code).toBe(0);
    await expect.poll(() => children.filter((pid) => existsSync(`/proc/${String(pid)}`))).toEqual([]);
    expect(existsSync(path.join(folder, '.gloam'))).toBe(false);
  });

  test('a file nobody loads wakes nothing, be it written all the time; a half-written token file and configuration are told and waited out', async () => {
    const folder = tideApp({ tokens: { base: ['tokens.json'] } });
    running = start(folder, ['run', '--watch', '--page', 'quay']);
    await running.printed('Ctrl-C ends');

    // A log in the served folder, written without a pause.
    const log = path.join(folder, 'site/tide.log');
    const writing = setInterval(() => {
      appendFileSync(log, 'low water\n');
    }, 20);
    save(folder, 'site/board.css', sheet('#444'));

    save(folder, 'tokens.json', tokens('#1a1a1a').slice(0, -3));
    await running.printed(/cannot be read: tokens\.json:1:\d+: found/);
    save(folder, 'tokens.json', tokens('#1b1b1b'));
    const told = await running.printed(/tokens\.json changed: 2 views of 2/);
    clearInterval(writing);
    expect(told).not.toMatch(/tide\.log|board\.css/);

    const config = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8');
    save(folder, 'gloam.config.json', config.replace('"pages"', '"pagse"'));
    await running.printed(/cannot go on: [^]*pagse[^]*Waiting for the next change of the configuration/);
    save(folder, 'gloam.config.json', config.replace('"/board.html"', '"/board.html", "/other.html"'));
    await running.printed(/Waiting for the next change of the configuration[^]*2 views of 2 in/);
    running.kill('SIGINT');
    expect((await running.ended).code).toBe(0);
  });

  test('refuses what speaks of a stored run', async () => {
    const { code, stderr } = await gloam(tideApp(), 'run', '--watch', '--fail-on', 'error');
    expect(code).toBe(2);
    expect(stderr).toContain('--fail-on has no meaning with it');
  });
});
