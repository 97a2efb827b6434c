// The promise of the table of checks: a check on facts that are there is one file and its name in the list. It is put into a copy of the
// built program, and has to come out wherever findings do: in the ledger, at the gate, in the report, in the exports and in triage.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import ts from 'typescript';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { folderWith, start } from './gloam.ts';
import type { Ended } from './gloam.ts';

const ROOT = path.resolve(import.meta.dirname, '..', '..');
const CHECK = 'middling-ink';
const source = (...parts: readonly string[]): string => readFileSync(path.join(ROOT, ...parts), 'utf8');

/** derived: L* of #6a6a6a is 44.8 (Y = .1441; 116 × ∛.1441 − 16), its contrast on white 5.4: no other check has a word against it. */
const CSS =
  ':root { --mark: #6a6a6a; background: #fff; color: #111 } .dusk { --mark: #e0e0e0; background: #101418; color: #eee } p { color: var(--mark) }';
const TEXTS = 3;

let copy = '';
let app = '';
const run = (...args: readonly string[]): Promise<Ended> => start(app, args, {}, path.join(copy, 'dist/cli/main.js')).ended;

beforeAll(() => {
  copy = mkdtempSync(path.join(tmpdir(), 'gloam-check-'));
  for (const part of ['src', 'runner', 'report-ui', 'page', 'web'])
    cpSync(path.join(ROOT, 'dist', part), path.join(copy, 'dist', part), { recursive: true });
  for (const file of ['package.json', 'bundle-cli.mjs']) cpSync(path.join(ROOT, file), path.join(copy, file));
  symlinkSync(path.join(ROOT, 'node_modules'), path.join(copy, 'node_modules'));
  mkdirSync(path.join(copy, 'docs'));

  // The one file …
  const check = source('tests/checks/middling-ink.ts').replaceAll('../../src/checks/', './').replaceAll('../../src/', '../');
  writeFileSync(path.join(copy, 'dist/src/checks/middling-ink.js'), compiled(check));
  // … and its name in the list.
  const table = source('src/checks/table.ts')
    .replace('import { neon }', "import { middlingInk } from './middling-ink.ts';\nimport { neon }")
    .replace('  invertedPicture,\n]', '  invertedPicture,\n  middlingInk,\n]');
  writeFileSync(path.join(copy, 'dist/src/checks/table.js'), compiled(table));
  execFileSync(process.execPath, [path.join(copy, 'bundle-cli.mjs')], { cwd: copy });

  const texts = Array.from({ length: TEXTS }, (_, at) => `<p>Low water at ${String(at)}</p>`).join('');
  app = folderWith({
    'site/index.html': `<!doctype html><html lang="en"><title>Quay</title><style>${CSS}</style><h1>Quay</h1>${texts}</html>`,
    'gloam.config.json': config({}),
  });
}, 120_000);

afterAll(() => {
  for (const folder of [copy, app]) if (folder !== '') rmSync(folder, { recursive: true, force: true });
});

function compiled(text: string): string {
  const compilerOptions = { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2023, rewriteRelativeImportExtensions: true };
  return ts.transpileModule(text, { compilerOptions }).outputText;
}

function config(more: object): string {
  const themes = { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } };
  return JSON.stringify({
    app: { serve: 'site' },
    pages: ['/'],
    themes,
    gate: { noon: { [CHECK]: 0 }, dusk: { [CHECK]: 0 } },
    ...more,
  });
}

function lines(name: string): readonly Readonly<Record<string, unknown>>[] {
  const text = readFileSync(path.join(app, 'out', name), 'utf8');
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Readonly<Record<string, unknown>>);
}

test('it is found, stored, explained, exported, and judged at the gate', async () => {
  const { code, stdout, stderr } = await run('run', '--export', 'out');
  expect(code, stderr).toBe(0);
  expect(stdout).toContain(CHECK);

  const found = lines('findings.ndjson');
  expect(found.map(({ check, theme, level }) => [check, theme, level])).toEqual(
    Array.from({ length: TEXTS }, () => [CHECK, 'noon', 'warning']),
  );
  expect(found[0]).toMatchObject({ measured: { ink: '#6a6a6a', lightness: 44.8 }, expected: { leastOff: 10 } });

  // Triage asked the check itself which other colour would do.
  const [cause, ...others] = lines('causes.ndjson');
  expect(others).toEqual([]);
  expect(cause).toMatchObject({ findings: TEXTS, repair: { change: 'value', of: '--mark', fixes: TEXTS, breaks: 0 } });
  expect(new Set(found.map((finding) => finding['cause']))).toEqual(new Set([cause?.['id']]));

  // Without token files the pages' own properties are checked, and said to be inferred.
  const tokens = await run('tokens', '--json');
  expect(tokens.stderr).toContain('inferred');
  expect(JSON.parse(tokens.stdout)).toMatchObject({
    inferred: true,
    counts: { tokens: 1 },
    uses: [{ token: '--mark', role: 'ink' }],
  });

  const gate = await run('gate', '--theme', 'noon');
  expect(gate.code).toBe(1);
  expect(gate.stdout).toContain('Middling ink: 3 findings (needed: none)');
  expect((await run('gate', '--theme', 'dusk')).code).toBe(0);
}, 120_000);

test('the report lists it and its findings', async () => {
  const serving = start(app, ['serve', '--port', '0'], {}, path.join(copy, 'dist/cli/main.js'));
  const [address = ''] = /http:\S+/.exec(await serving.printed(/http:\S+/)) ?? [];
  const ask = async (what: string): Promise<Readonly<Record<string, unknown>>> =>
    (await (await fetch(new URL(what, address))).json()) as Readonly<Record<string, unknown>>;
  const { checks } = (await ask('/api/session')) as { readonly checks: readonly object[] };
  expect(checks).toContainEqual({ id: CHECK, title: 'Middling ink' });
  const { runs } = (await ask('/api/runs')) as { readonly runs: readonly { readonly id: string }[] };
  const asked = `/api/runs/${runs[0]?.id ?? ''}/findings?check=${CHECK}`;
  expect(await ask(asked)).toMatchObject({ total: TEXTS });
  serving.kill('SIGTERM');
  expect((await serving.ended).code).toBe(0);
}, 120_000);

test('its options are taken, checked, and need no page to be read anew; an exemption covers it', async () => {
  writeFileSync(path.join(app, 'gloam.config.json'), config({ checks: { [CHECK]: { leastOff: 2 } } }));
  const tuned = JSON.parse((await run('run', '--json')).stdout) as {
    readonly unchanged: number;
    readonly run: { readonly totals: object };
  };
  expect(tuned).toMatchObject({ unchanged: 2, run: { totals: { findings: {} } } });

  writeFileSync(path.join(app, 'gloam.config.json'), config({ exempt: [{ selector: 'p', checks: [CHECK], why: 'meant so' }] }));
  expect((await run('run')).code).toBe(0);
  expect((await run('gate', '--theme', 'noon')).code).toBe(0);

  writeFileSync(path.join(app, 'gloam.config.json'), config({ checks: { [CHECK]: { leastOf: 2 } } }));
  const wrong = await run('run');
  expect(wrong.code).toBe(2);
  expect(wrong.stderr).toContain('leastOff');
}, 120_000);
