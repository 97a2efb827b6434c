// From nothing to a verdict on pages that nobody prepared for gloam: kitchen sinks of two themed style libraries, and the harbour screens.
import { execFile } from 'node:child_process';
import { cpSync, readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, test } from 'vitest';
import { readConfiguration } from '../../src/config/read-configuration.ts';
import { kitchenSink } from '../explore/kitchen-sink.ts';
import { folderWith, gloam } from './gloam.ts';

const run = promisify(execFile);

/** Each has a light and a dark theme: by an attribute, and by the system's setting. */
const LIBRARIES = [
  { name: '@picocss/pico', version: '2.1.1', sheet: 'css/pico.css' },
  { name: 'bulma', version: '1.0.4', sheet: 'css/bulma.css' },
] as const;

/** Its themes are classes of the body, and a page wears one of them from the start; parts of it are called `button` and `shape`. */
const WORN = { name: 'beercss', version: '5.0.3', sheet: 'dist/cdn/beer.min.css' } as const;

describe.concurrent('gloam init on pages of style libraries', () => {
  const installed = folderWith({ 'package.json': '{ "private": true }' });
  beforeAll(async () => {
    const wanted = [...LIBRARIES, WORN].map(({ name, version }) => `${name}@${version}`);
    await run('npm', ['install', '--no-audit', '--no-fund', '--ignore-scripts', ...wanted], { cwd: installed });
  }, 110_000);

  test.each(LIBRARIES)('$name: its two themes, a run, a verdict', async ({ name, sheet }) => {
    const css = readFileSync(path.join(installed, 'node_modules', name, sheet), 'utf8');
    const folder = folderWith({ 'index.html': kitchenSink('library.css'), 'library.css': css });
    const init = await gloam(folder, 'init');
    expect(init.stderr).not.toContain('fault');
    expect(init.code).toBe(0);
    const { themes, viewports } = await readConfiguration({ folder });
    const byAttribute = (value: string): unknown => ({ attributes: [{ on: 'html', name: 'data-theme', value }] });
    expect(themes.map((theme) => [theme.name, theme.tone, theme.apply])).toEqual([
      ['light', 'light', byAttribute('light')],
      ['dark', 'dark', byAttribute('dark')],
    ]);
    expect(viewports.map((viewport) => viewport.name)).toEqual(['desk', 'phone']);
    const rendered = await gloam(folder, 'run');
    expect(rendered.stdout).toContain('4 views captured');
    expect(rendered.code).toBe(0);
    const gate = await gloam(folder, 'gate');
    expect([0, 1]).toContain(gate.code);
    expect(gate.stdout).toMatch(/^light may /);
    expect(gate.stdout).toMatch(/\ndark may /);
  });

  test(`${WORN.name}: the theme the page wears gives way to the other`, async () => {
    const css = readFileSync(path.join(installed, 'node_modules', WORN.name, WORN.sheet), 'utf8');
    const worn = kitchenSink('library.css').replace('<body>', '<body class="light">');
    const folder = folderWith({ 'index.html': worn, 'library.css': css });
    expect((await gloam(folder, 'init')).code).toBe(0);
    const { themes } = await readConfiguration({ folder });
    expect(themes.map((theme) => [theme.name, theme.tone, theme.apply])).toEqual([
      ['light', 'light', {}],
      ['dark', 'dark', { class: { on: 'body', add: ['dark'], remove: ['light'] } }],
    ]);
  });
});

describe('gloam init on the harbour screens', () => {
  test('finds the five themes, one of which differs in an accent only, and the token files beside the app', async () => {
    const folder = folderWith({});
    cpSync(path.resolve(import.meta.dirname, '../../scenarios/harbour'), folder, { recursive: true });
    rmSync(path.join(folder, 'gloam.config.json'));
    const { code } = await gloam(folder, 'init', 'app');
    expect(code).toBe(0);
    const made = await readConfiguration({ folder });
    const own = await readConfiguration({ folder: path.resolve(import.meta.dirname, '../../scenarios/harbour') });
    expect(new Set(made.themes.map((theme) => theme.name))).toEqual(new Set(own.themes.map((theme) => theme.name)));
    for (const theme of made.themes) {
      const known = own.themes.find((other) => other.name === theme.name);
      expect([theme.tone, theme.apply.attributes], theme.name).toEqual([known?.tone, known?.apply.attributes]);
    }
    expect(made.tokens).toMatchObject({ kind: 'resolver', file: path.join(folder, 'tokens/harbour.resolver.json') });
    const pathsOf = (configuration: typeof made): readonly string[] =>
      configuration.pages.kind === 'list'
        ? configuration.pages.pages.map((page) => page.path.replace('index.html', '')).sort()
        : [];
    expect(pathsOf(made)).toEqual(pathsOf(own));
  });
});
