// An exemption is put into a file that people keep by hand: nothing but the new lines may change.
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readConfiguration } from '../../src/config/read-configuration.ts';
import { exemptionFileOf } from '../../src/config/exemption-file.ts';
import { writeExemption } from '../../src/config/write-exemption.ts';
import { insertExemption } from '../../src/config/write-exemption-text.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import type { Exemption } from '../../src/plan/configuration.ts';

const EXEMPTION: Exemption = {
  selector: '#tide-curve',
  checks: ['glow'],
  themes: ['dusk'],
  why: 'A lamp is meant to glow.',
  until: '2031-05-01',
};

// derived: written by hand, the layout of each text carried on
const ROWS: readonly (readonly [says: string, before: string, after: string])[] = [
  [
    'two spaces, no list yet',
    '{\n  "app": { "serve": "app" },\n  "pages": ["/"]\n}\n',
    '{\n  "app": { "serve": "app" },\n  "pages": ["/"],\n  "exempt": [\n    {\n      "selector": "#tide-curve",\n      "checks": ["glow"],\n      "themes": ["dusk"],\n      "why": "A lamp is meant to glow.",\n      "until": "2031-05-01"\n    }\n  ]\n}\n',
  ],
  [
    'tabs and CRLF, an empty list with other members behind it',
    '{\r\n\t"exempt": [],\r\n\t"mask":   [ ".clock" ]\r\n}',
    '{\r\n\t"exempt": [\r\n\t\t{\r\n\t\t\t"selector": "#tide-curve",\r\n\t\t\t"checks": ["glow"],\r\n\t\t\t"themes": ["dusk"],\r\n\t\t\t"why": "A lamp is meant to glow.",\r\n\t\t\t"until": "2031-05-01"\r\n\t\t}\r\n\t],\r\n\t"mask":   [ ".clock" ]\r\n}',
  ],
  [
    'items of one line each stay items of one line',
    '{\n    "exempt": [\n        { "selector": ".a", "why": "b" },\n        { "selector": ".c", "why": "d" }\n    ]\n}\n',
    '{\n    "exempt": [\n        { "selector": ".a", "why": "b" },\n        { "selector": ".c", "why": "d" },\n        { "selector": "#tide-curve", "checks": ["glow"], "themes": ["dusk"], "why": "A lamp is meant to glow.", "until": "2031-05-01" }\n    ]\n}\n',
  ],
  [
    'everything on one line',
    '{"app":{"serve":"."},"exempt":[{"selector":".a","why":"b"}]}',
    '{"app":{"serve":"."},"exempt":[{"selector":".a","why":"b"}, { "selector": "#tide-curve", "checks": ["glow"], "themes": ["dusk"], "why": "A lamp is meant to glow.", "until": "2031-05-01" }]}',
  ],
  [
    'a list of its own',
    '[\n  {\n    "selector": ".a",\n    "why": "b"\n  }\n]\n',
    '[\n  {\n    "selector": ".a",\n    "why": "b"\n  },\n  {\n    "selector": "#tide-curve",\n    "checks": ["glow"],\n    "themes": ["dusk"],\n    "why": "A lamp is meant to glow.",\n    "until": "2031-05-01"\n  }\n]\n',
  ],
];

describe('an exemption put into a text', () => {
  test.each(ROWS)('%s', (_says, before, after) => {
    expect(insertExemption('gloam.config.json', before, EXEMPTION)).toBe(after);
    JSON.parse(after);
  });

  test.each([
    ['no JSON', '{ "exempt": [ }'],
    ['a comment, which JSON has not', '{ // harbour\n "exempt": [] }'],
    ['exempt is no list', '{ "exempt": {} }'],
    ['neither object nor list', '"ebb"'],
  ])('is refused where it cannot be done safely: %s', (_says, text) => {
    expect(insertExemption('gloam.config.json', text, EXEMPTION)).toBeNull();
  });

  test('is the only thing that changes, whatever stands around it', () => {
    const value = fc.jsonValue({ maxDepth: 2 });
    const record = fc.dictionary(fc.string({ maxLength: 8 }), value, { maxKeys: 4 });
    const indent = fc.constantFrom('  ', '\t', '    ', '');
    fc.assert(
      fc.property(record, fc.option(fc.array(record, { maxLength: 3 })), indent, (rest, list, space) => {
        const input = { ...rest, ...(list === null ? {} : { exempt: list }) };
        if (list === null && 'exempt' in rest) return;
        const text = JSON.stringify(input, null, space);
        const changed = insertExemption('gloam.config.json', text, EXEMPTION);
        expect(changed === null ? null : JSON.parse(changed)).toEqual({
          ...(JSON.parse(text) as object),
          exempt: [...(list ?? []), EXEMPTION],
        });
      }),
      { seed: 20310501 },
    );
  });
});

describe('an exemption written to the configuration', () => {
  let folder: string;
  beforeEach(async () => {
    folder = await mkdtemp(path.join(tmpdir(), 'gloam-exempt-'));
    await writeFile(path.join(folder, 'index.html'), '<h1>Ebb</h1>');
  });
  afterEach(async () => {
    await rm(folder, { recursive: true });
  });

  const BODY = { app: { serve: '.' }, pages: ['/'], themes: { dusk: { tone: 'dark' } }, exempt: [{ selector: '.a', why: 'b' }] };

  test('in JSON goes into the file itself, and is read back', async () => {
    const file = path.join(folder, 'gloam.config.json');
    await writeFile(file, JSON.stringify(BODY, null, 2));
    expect(await writeExemption(await readConfiguration({ folder }), EXEMPTION, () => true)).toBe(file);
    expect((await readConfiguration({ folder })).exempt).toEqual([...BODY.exempt, EXEMPTION]);
  });

  test('in TypeScript goes beside it: the comments of the configuration stay untouched, and both are read', async () => {
    const file = path.join(folder, 'gloam.config.ts');
    const text = `// Kept by the survey office.\nexport default ${JSON.stringify(BODY)};\n`;
    await writeFile(file, text);
    const beside = path.join(folder, 'gloam.exempt.json');
    expect(exemptionFileOf(file)).toBe(beside);
    expect(await writeExemption(await readConfiguration({ folder }), EXEMPTION, () => true)).toBe(beside);
    expect(await readFile(file, 'utf8')).toBe(text);
    expect((await readConfiguration({ folder })).exempt).toEqual([...BODY.exempt, EXEMPTION]);
    const second = { ...EXEMPTION, themes: ['noon'] };
    await writeExemption(await readConfiguration({ folder }), second, () => true);
    expect((await readConfiguration({ folder })).exempt).toEqual([...BODY.exempt, EXEMPTION, second]);
  });

  test('is refused when the same scope is exempt already, with the reason that stands there', async () => {
    await writeFile(path.join(folder, 'gloam.config.json'), JSON.stringify({ ...BODY, exempt: [EXEMPTION] }));
    const again = writeExemption(await readConfiguration({ folder }), { ...EXEMPTION, why: 'another' }, () => true);
    await expect(again).rejects.toMatchObject({ code: 'exemption-there' });
    await expect(again).rejects.toThrow('A lamp is meant to glow.');
  });

  test('faults of the file beside it name that file and the place in it', async () => {
    await writeFile(path.join(folder, 'gloam.config.json'), JSON.stringify(BODY));
    await writeFile(path.join(folder, 'gloam.exempt.json'), JSON.stringify([{ selector: '.a', why: 'b', til: 'May' }]));
    const error: unknown = await readConfiguration({ folder }).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(GloamError);
    expect(error instanceof GloamError ? error.message : '').toBe(
      `${path.join(folder, 'gloam.exempt.json')}: 1 fault:\n  [0].til: found a member nobody reads; expected "until"?`,
    );
  });
});
