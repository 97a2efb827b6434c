// What was observed → a configuration: it reads back as what was observed, and hostile texts stay inside their comments and quotes.
import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { proposeJson, proposeTypeScript } from '../../src/config/propose-configuration.ts';
import type { Proposal } from '../../src/config/propose-configuration.ts';
import { findTokens, nameTokens } from '../../src/config/propose-configuration-tokens.ts';
import { readConfiguration } from '../../src/config/read-configuration.ts';
import type { ObservedApp, ObservedTheme } from '../../src/plan/observed-app.ts';
import { tempFolder } from '../ledger/temp-folder.ts';

const HOSTILE = `*/ '); process.exit(1); // "\\\n</script> \u2028`;

const THEMES: readonly ObservedTheme[] = [
  { name: 'noon', tone: 'light', apply: {}, evidence: ['as the app loads'] },
  {
    name: 'dusk-watch',
    tone: 'dark',
    apply: {
      attributes: [{ on: 'html', name: 'data-watch', value: "o'dusk" }],
      class: { on: 'body', add: ['dusk'], remove: ['noon'] },
    },
    evidence: [HOSTILE],
  },
  {
    name: 'stark',
    tone: 'dark',
    apply: {
      attributes: [
        { on: 'html', name: 'data-watch', value: 'night' },
        { on: 'body', name: 'data-contrast', value: 'more' },
      ],
    },
    evidence: ['a switch'],
  },
  {
    name: 'stored',
    tone: 'dark',
    apply: { storage: { 'pier.look': '{"look":"dusk"}' }, cookie: { look: 'dusk' } },
    evidence: ['a list'],
  },
];

const OBSERVED: ObservedApp = {
  pages: [
    { path: '/', title: HOSTILE },
    { path: '/log.html?of=low%20pier', title: '' },
  ],
  pagesFrom: ['links', 'files'],
  morePages: true,
  themes: THEMES,
  viewports: [{ name: 'desk', widthCssPx: 1280, heightCssPx: 800, why: 'a common desktop window' }],
  properties: ['tg-sheet', 'tg-silt-600'],
  notes: [],
};

const PROPOSAL: Proposal = { observed: OBSERVED, app: { kind: 'serve', folder: '.' }, tokens: null, typed: false };

describe('a proposed configuration', () => {
  test.each([
    ['gloam.config.ts', proposeTypeScript(PROPOSAL)],
    ['gloam.config.ts', proposeTypeScript({ ...PROPOSAL, typed: true })],
    ['gloam.config.json', proposeJson(PROPOSAL)],
  ])('%s reads back as what was observed', async (name, text) => {
    await using folder = await tempFolder();
    await writeFile(path.join(folder.path, name), text);
    const read = await readConfiguration({ folder: folder.path });
    expect(read.themes.map(({ name: theme, tone, apply }) => ({ name: theme, tone, apply }))).toEqual(
      THEMES.map(({ name: theme, tone, apply }) => ({ name: theme, tone, apply })),
    );
    expect(read.reference).toBe('noon');
    expect(read.pages.kind === 'list' ? read.pages.pages.map((page) => page.path) : []).toEqual(['/', '/log.html?of=low%20pier']);
    expect(read.viewports).toEqual([{ name: 'desk', widthCssPx: 1280, heightCssPx: 800, scale: 1 }]);
    expect(read.gate['*']?.most).toEqual([
      { check: '*', level: 'error', count: 0 },
      ...['unthemed', 'flipped', 'inverted-picture', 'neon'].map((check) => ({ check, level: 'warning', count: 0 })),
    ]);
  });

  test('says where pages came from, that there are more, and how each theme was found', () => {
    const text = proposeTypeScript(PROPOSAL);
    expect(text).toContain('// Found by following links, as files in the folder. There are more than these 2');
    expect(text).toContain('// as the app loads');
    expect(text).toContain('// No token files were found');
  });
});

describe('token files', () => {
  const ramps = { silt: { '600': { $type: 'color', $value: '#5b6770' } }, sheet: { $type: 'color', $value: '{silt.600}' } };

  async function folderOf(files: Readonly<Record<string, unknown>>): Promise<Awaited<ReturnType<typeof tempFolder>>> {
    const folder = await tempFolder();
    for (const [name, value] of Object.entries(files)) {
      await mkdir(path.dirname(path.join(folder.path, name)), { recursive: true });
      await writeFile(path.join(folder.path, name), typeof value === 'string' ? value : JSON.stringify(value));
    }
    return folder;
  }

  test('are told from other JSON, sorted by the names of themes, and named as the page names them', async () => {
    await using folder = await folderOf({
      'tokens/base.tokens.json': ramps,
      'tokens/dusk_watch.json': { sheet: { $type: 'color', $value: '#000000' } },
      'tokens/other.json': { x: 1 },
      'tokens/over.noon.json': { sheet: { $type: 'color', $value: '#ffffff' } },
      'package.json': { name: 'pier', x: { $value: 1 } },
      'node_modules/lib/tokens.json': ramps,
      'broken.json': '{ "a": ',
      'list.json': [1, 2],
    });
    expect(await findTokens(folder.path, THEMES, OBSERVED.properties)).toEqual({
      kind: 'files',
      base: ['tokens/base.tokens.json'],
      themes: { noon: ['tokens/over.noon.json'], 'dusk-watch': ['tokens/dusk_watch.json'] },
      css: { prefix: 'tg' },
      fit: { tokens: 2, onPage: 2 },
    });
  });

  test('with a resolver document come as that, each theme at its place', async () => {
    await using folder = await folderOf({
      'tokens/base.json': ramps,
      'tokens/dark.json': { sheet: { $type: 'color', $value: '#000000' } },
      'tokens/pier.resolver.json': {
        version: '2025.10',
        sets: { base: { sources: [{ $ref: 'base.json' }] } },
        modifiers: { watch: { contexts: { noon: [], dark: [{ $ref: 'dark.json' }] }, default: 'noon' } },
        resolutionOrder: [{ $ref: '#/sets/base' }, { $ref: '#/modifiers/watch' }],
      },
    });
    expect(await findTokens(folder.path, THEMES, ['silt-600', 'sheet'])).toEqual({
      kind: 'resolver',
      file: 'tokens/pier.resolver.json',
      inputs: { noon: { watch: 'noon' }, 'dusk-watch': { watch: 'dark' }, stark: { watch: 'dark' }, stored: { watch: 'dark' } },
      css: {},
      fit: { tokens: 2, onPage: 2 },
    });
  });

  test('are none where nothing looks like tokens', async () => {
    await using folder = await folderOf({ 'data.json': { levels: [1, 2] } });
    expect(await findTokens(folder.path, THEMES, [])).toBeNull();
  });

  // derived: the settings of the reference's naming table (design tokens, section 14), found backwards from names
  test.each([
    [['silt.100'], ['silt-100'], {}],
    [['silt.100', 'silt.200'], ['tg-silt-100', 'tg-silt-200'], { prefix: 'tg' }],
    [['hue.silt.100', 'hue.silt.200'], ['silt-100', 'silt-200'], { drop: ['hue'] }],
    [['dial.faceRim'], ['dial-face-rim'], { case: 'kebab' }],
    [['dial.face'], ['dial_face'], { sep: '_' }],
    [['dial.face'], ['nothing-alike'], {}],
  ])('%j named as %j', (paths, properties, css) => {
    expect(nameTokens(paths, properties).css).toEqual(css);
  });
});
