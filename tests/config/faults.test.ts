// Bad configurations and the exact faults that are named. Expected texts are derived from docs/configuration.md.
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { readConfiguration, validateConfiguration } from '../../src/config/read-configuration.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'gloam-config-'));
const file = path.join(folder, 'gloam.config.json');

/** A configuration that is right; each case breaks it in one place. */
const good = {
  app: { url: 'http://127.0.0.1:9' },
  pages: ['/index.html', { path: '/quay.html', name: 'quay' }],
  themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
};

function faultsOf(change: object): readonly string[] {
  try {
    validateConfiguration(file, { ...good, ...change });
  } catch (error) {
    if (!(error instanceof GloamError)) throw error;
    expect(error.code).toBe('config-invalid');
    expect(error.message.startsWith(`${file}: `)).toBe(true);
    return error.message
      .split('\n')
      .slice(1)
      .map((line) => line.trim());
  }
  return [];
}

const cases: readonly (readonly [name: string, change: object, ...faults: string[]])[] = [
  ['nothing wrong', {}],
  ['a mistyped member', { theems: {} }, 'theems: found a member nobody reads; expected "themes"?'],
  [
    'a member unlike any',
    { xyzzyxyzzy: 1 },
    'xyzzyxyzzy: found a member nobody reads; expected one of app, pages, themes, reference, viewports, states, tokens, ramps, session, headers, cookies, retries, limits, night, stay, exempt, clock, mask, checks, owners, store, blobs, gate',
  ],
  ['no app', { app: undefined }, 'app: found nothing; expected an object'],
  ['an app of no kind', { app: {} }, 'app: found neither serve nor url; expected serve (a folder), or url, or start with url'],
  [
    'an app of two kinds',
    { app: { serve: '.', url: 'http://127.0.0.1:9' } },
    'app: found serve together with url or start; expected either serve, or url, or start with url',
  ],
  [
    'start without url',
    { app: { start: 'npm start' } },
    'app: found start without url; expected the url that answers once the app runs',
  ],
  [
    'an address of another kind',
    { app: { url: 'ftp://tide' } },
    'app.url: found "ftp://tide"; expected an address that starts with http:// or https://',
  ],
  [
    'a folder that is not there',
    { app: { serve: 'quay' } },
    `app.serve: found "quay", which does not exist; expected a folder (paths start at ${folder})`,
  ],
  ['a path without slash', { pages: ['index.html'] }, 'pages[0].path: found "index.html"; expected a path that starts with /'],
  ['no page', { pages: [] }, 'pages: found []; expected a list of at least 1'],
  ['pages of another kind', { pages: 'all' }, 'pages: found "all"; expected a list, or an object'],
  [
    'two pages of one name',
    { pages: ['/quay.html', { path: '/b', name: 'quay' }] },
    'pages[1].name: found "quay", the name of pages[0] too; expected a name of its own',
  ],
  [
    'an unknown state',
    { pages: [{ path: '/', states: ['menue'] }], states: { menu: { click: '#m' } } },
    'pages[0].states[0]: found "menue"; expected "menu"?',
  ],
  [
    'an unknown viewport',
    { pages: [{ path: '/', viewports: ['phone'] }] },
    'pages[0].viewports[0]: found "phone"; expected one of desk',
  ],
  [
    'a state of two kinds',
    { states: { menu: { click: '#m', hover: '#m' } } },
    'states.menu: found hover and click; expected exactly one of hover, focus, active, click, script',
  ],
  [
    'a state called rest',
    { states: { rest: { click: '#m' } } },
    'states.rest: found a state called rest; expected another name: rest is the page nobody touched',
  ],
  ['no themes', { themes: {} }, 'themes: found no theme; expected at least one'],
  ['a theme without tone', { themes: { noon: {} } }, 'themes.noon.tone: found nothing; expected one of light, dark'],
  [
    'a mistyped way to switch',
    { themes: { noon: { tone: 'light', apply: { atribute: {} } } } },
    'themes.noon.apply.atribute: found a member nobody reads; expected "attribute"?',
  ],
  ['an unknown reference', { reference: 'nooon' }, 'reference: found "nooon"; expected "noon"?'],
  ['a viewport of no width', { viewports: { desk: [0, 800] } }, 'viewports.desk.width: found [0,800]; expected a number from 1 up'],
  [
    'token files in two ways',
    { tokens: { resolver: 'gloam.config.json', base: [] } },
    'tokens: found resolver together with base or themes; expected either resolver, or base and themes',
    'tokens.resolver: found "gloam.config.json", which does not exist; expected a file (paths start at ' + folder + ')',
  ],
  [
    'token files of an unknown theme',
    { tokens: { base: [], themes: { dawn: [] } } },
    'tokens.themes.dawn: found a theme nobody configured; expected one of noon, dusk',
  ],
  [
    'a pair without surface, of no kind, and of a contrast nothing has',
    { tokens: { base: [], pairs: [{ ink: 'mark.*' }, { ink: 'mark.*', on: [], as: 'headline', contrast: 22 }] } },
    'tokens.pairs[0].on: found nothing; expected text, or a list',
    'tokens.pairs[1].on: found []; expected a list of at least 1',
    'tokens.pairs[1].as: found "headline"; expected one of text, large, graphic',
    'tokens.pairs[1].contrast: found 22; expected a number up to 21',
  ],
  [
    'selectors that are none',
    {
      mask: ['.a', 'main >> p', '.b['],
      stay: [{ selector: '> header', tone: 'dark' }],
      owners: [{ selector: 'a,,b', owner: 'survey' }],
      exempt: [
        { selector: 'quay-board >>> .c', why: 'known' },
        { selector: '{silt.500}', checks: ['token-fault'], why: 'a token is no element' },
        { selector: '.md\\:hidden:has(> p):not(.d, .e)', why: 'a selector' },
      ],
    },
    'stay[0].selector: found "> header", which is no selector: a combinator joins nothing; expected a selector of elements (CSS Selectors Level 4)',
    'mask[1]: found "main >> p", which is no selector: a combinator joins nothing; expected a selector of elements (CSS Selectors Level 4)',
    'mask[2]: found ".b[", which is no selector: Unexpected end of input; expected a selector of elements (CSS Selectors Level 4)',
    'owners[0].selector: found "a,,b", which is no selector: Selector is expected; expected a selector of elements (CSS Selectors Level 4)',
    'exempt[0].selector: found "quay-board >>> .c"; expected a selector that one element is matched by, without the way to it: ".c"',
  ],
  ['an exemption without why', { exempt: [{ selector: '.logo' }] }, 'exempt[0].why: found nothing; expected text'],
  [
    'a date that does not exist',
    { exempt: [{ selector: '.logo', why: 'logotype', until: '2026-02-30' }] },
    'exempt[0].until: found "2026-02-30"; expected a date that exists, as YYYY-MM-DD',
  ],
  ['an unknown check', { checks: { glo: 'off' } }, 'checks.glo: found a member nobody reads; expected "glow"?'],
  [
    'a gate for an unknown theme',
    { gate: { dawn: { '*': 0 } } },
    'gate.dawn: found a theme nobody configured; expected one of noon, dusk',
  ],
  ['a gate for an unknown check', { gate: { dusk: { neno: 0 } } }, 'gate.dusk.neno: found no such check; expected "neon"?'],
  ['a gate of half a finding', { gate: { dusk: { neon: 0.5 } } }, 'gate.dusk.neon: found 0.5; expected a whole number from 0 up'],
  [
    'a gate against a run that is a number',
    { gate: { dusk: { since: 7 } } },
    'gate.dusk.since: found 7; expected the id of a run, or "previous"',
  ],
  [
    'a gate that lets minus one view fail',
    { gate: { dusk: { failed: -1 } } },
    'gate.dusk.failed: found -1; expected a whole number from 0 up',
  ],
  ['accepted pictures by the number', { gate: { dusk: { accepted: 1 } } }, 'gate.dusk.accepted: found 1; expected true or false'],
  [
    'an owner with a check nobody has',
    { gate: { dusk: { owners: { pilots: { glwo: 1 } } } } },
    'gate.dusk.owners.pilots.glwo: found no such check; expected "glow"?',
  ],
  ['a coverage in per cent', { gate: { dusk: { coverage: 95 } } }, 'gate.dusk.coverage: found 95; expected a share from 0 to 1'],
  [
    'a clock without zone',
    { clock: '2031-05-04 08:56' },
    'clock: found "2031-05-04 08:56"; expected an instant, as 2031-05-04T08:56:00Z',
  ],
  ['several faults at once', { reference: 'nun', mask: [''] }, 'mask[0]: found ""; expected text that is not empty'],
];

describe('a configuration that is wrong names', () => {
  test.each(cases.map(([name, change, ...faults]) => ({ name, change, faults })))('$name', ({ change, faults }) => {
    expect(faultsOf(change)).toEqual(faults);
  });
});

describe('a file that cannot be read names its place', () => {
  test('no file at all', async () => {
    await expect(readConfiguration({ folder })).rejects.toMatchObject({ code: 'config-not-found' });
  });
  test('broken JSON: line and column', async () => {
    writeFileSync(file, '{\n  "app": { "serve": "." },\n  "pages" ["/"]\n}\n');
    const error: unknown = await readConfiguration({ folder }).catch((e: unknown) => e);
    expect(error).toMatchObject({ code: 'config-unreadable' });
    expect(String(error)).toMatch(/line 3, column 11/);
  });
  test('a module that throws', async () => {
    writeFileSync(path.join(folder, 'broken.config.mjs'), 'throw new Error("low water");\n');
    const error: unknown = await readConfiguration({ folder, file: 'broken.config.mjs' }).catch((e: unknown) => e);
    expect(error).toMatchObject({ code: 'config-unreadable' });
    expect(String(error)).toContain('low water');
  });
  test('a TypeScript configuration is read, with paths from its folder', async () => {
    writeFileSync(
      path.join(folder, 'gloam.config.ts'),
      `const themes: Record<string, unknown> = { noon: { tone: 'light' } };\nexport default { app: { serve: '.' }, pages: ['/'], themes };\n`,
    );
    const configuration = await readConfiguration({ folder, file: 'gloam.config.ts' });
    expect(configuration.app).toEqual({ kind: 'serve', folder });
    expect(configuration.reference).toBe('noon');
    expect(configuration.pages).toMatchObject({ kind: 'list', pages: [{ name: 'index', path: '/' }] });
  });
});
