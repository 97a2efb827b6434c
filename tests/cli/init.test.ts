// gloam init as a process: from an app nobody configured to a run and a verdict, without a change by hand.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { openApp } from '../../runner/app/open-app.ts';
import { APPS } from '../explore/apps.ts';
import { folderWith, gloam } from './gloam.ts';

const [byAttribute] = APPS;
const FILES = byAttribute?.files ?? {};

describe('gloam init', () => {
  test('on a folder writes a configuration with which run and gate work as they are', async () => {
    const folder = folderWith(FILES);
    const { code, stdout, stderr } = await gloam(folder, 'init');
    expect(stderr).toContain('trying attributes');
    expect(code).toBe(0);
    expect(stdout).toContain('2 pages');
    expect(stdout).toContain('  night (dark)  {"attribute":{"name":"data-watch","value":"night"}}');
    expect(stdout).toContain('the control "Night watch" switches it');
    expect(stdout).toContain('written: gloam.config.ts');
    const run = await gloam(folder, 'run');
    expect(run.code).toBe(0);
    expect(run.stdout).toContain('4 views captured');
    const gate = await gloam(folder, 'gate', '--json');
    expect([0, 1]).toContain(gate.code);
    expect(
      (JSON.parse(gate.stdout) as { readonly themes: readonly { readonly theme: string }[] }).themes.map((t) => t.theme),
    ).toEqual(['light', 'night']);
  });

  test('on an address finds the same, and writes JSON when asked', async () => {
    const folder = folderWith({});
    const app = await openApp({ kind: 'serve', folder: folderWith(FILES) }, AbortSignal.timeout(100_000));
    try {
      const { code } = await gloam(folder, 'init', `${app.origin}/log.html`, '--format', 'json');
      expect(code).toBe(0);
    } finally {
      await app.close();
    }
    const read = JSON.parse(readFileSync(path.join(folder, 'gloam.config.json'), 'utf8')) as Record<string, unknown>;
    expect(read).toMatchObject({
      app: { url: app.origin },
      themes: { light: { tone: 'light' }, night: { tone: 'dark', apply: { attribute: { name: 'data-watch', value: 'night' } } } },
    });
    // log.html does not link back; the address given is what is looked at.
    expect(read['pages']).toEqual(['/log.html']);
  });

  test('leaves a configuration that is there alone, unless told otherwise', async () => {
    const folder = folderWith({ 'index.html': '<title>Pier</title><h1>Pier</h1>', 'gloam.config.json': '{}' });
    const refused = await gloam(folder, 'init');
    expect(refused.code).toBe(2);
    expect(refused.stderr).toContain('gloam.config.json: is there already; nothing was looked at');
    const printed = await gloam(folder, 'init', '--print');
    expect(printed.code).toBe(0);
    expect(printed.stdout).toMatch(/^\/\/ How gloam looks at this app/);
    expect(existsSync(path.join(folder, 'gloam.config.ts'))).toBe(false);
    expect(readFileSync(path.join(folder, 'gloam.config.json'), 'utf8')).toBe('{}');
  });

  test.each([
    [['init', 'nowhere'], 'found "nowhere", which does not exist'],
    [['init', 'index.html'], 'found "index.html", which is a file'],
    [['init', '--format', 'yaml'], 'found "yaml"; expected ts or json'],
    [['init', 'http://127.0.0.1:9/'], 'http://127.0.0.1:9'],
    [['init', 'empty'], 'pages'],
  ])('wrong use ends with 2 and writes nothing: %j', async (args, says) => {
    const folder = folderWith({ ...FILES, 'empty/data.json': '{}' });
    const { code, stderr } = await gloam(folder, ...args);
    expect(stderr).toContain(says);
    expect(code).toBe(2);
    expect(existsSync(path.join(folder, 'gloam.config.ts'))).toBe(false);
  });

  test('says when the folder has a server of its own', async () => {
    const folder = folderWith({ 'index.html': '<title>Pier</title><h1>Pier</h1>' });
    writeFileSync(path.join(folder, 'package.json'), JSON.stringify({ scripts: { dev: 'serve' } }));
    const { stdout } = await gloam(folder, 'init');
    expect(stdout).toContain('package.json has the script "dev"');
  });
});
