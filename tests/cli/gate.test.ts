// gloam gate as a process, on a run of a small app: verdicts, exit codes, forms on stdout and in files.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { gloam, quayApp } from './gloam.ts';

interface GateJson {
  readonly format: string;
  readonly may: boolean;
  readonly themes: readonly {
    readonly theme: string;
    readonly may: boolean;
    readonly criteria: readonly { readonly id: string; readonly met: boolean }[];
  }[];
}

describe('gloam gate', () => {
  let folder: string;
  beforeAll(async () => {
    // One text is too weak at noon; dusk is clean.
    folder = quayApp({ gate: { '*': { 'text-contrast': 0 } } });
    expect((await gloam(folder, 'run')).code).toBe(0);
  });

  test('lets a theme launch that holds its criteria: exit 0', async () => {
    const { code, stdout } = await gloam(folder, 'gate', '--theme', 'dusk');
    expect(stdout).toMatch(/^dusk may launch$/m);
    expect(code).toBe(0);
  });

  test('holds one back that does not: exit 1, with what is missing and the command that shows it', async () => {
    const { code, stdout } = await gloam(folder, 'gate', '--theme', 'noon');
    expect(code).toBe(1);
    expect(stdout).toMatch(/^noon may not launch yet: 1 of \d+ criteria is open$/m);
    expect(stdout).toContain('Text contrast: 1 finding (needed: none)');
    expect(stdout).toMatch(/gloam explain \S+/);
  });

  test('judges every theme when none is named, as one JSON document with --json', async () => {
    const { code, stdout } = await gloam(folder, 'gate', '--json');
    const read = JSON.parse(stdout) as GateJson;
    expect(code).toBe(1);
    expect([read.format, read.may, read.themes.map((t) => [t.theme, t.may])]).toEqual([
      'gloam-gate/1',
      false,
      [
        ['noon', false],
        ['dusk', true],
      ],
    ]);
  });

  test('allows what an earlier run had already', async () => {
    expect((await gloam(folder, 'run')).code).toBe(0);
    const { code, stdout } = await gloam(folder, 'gate', '--theme', 'noon', '--since', 'previous');
    expect(stdout).toContain('0 findings, 1 more that it had already');
    expect(code).toBe(0);
  });

  test('writes forms to stdout and to files', async () => {
    const { stdout } = await gloam(folder, 'gate', '--form', 'markdown', '--form', 'sarif=out/noon.sarif');
    expect(stdout).toMatch(/^## ❌ noon/);
    expect(JSON.parse(readFileSync(path.join(folder, 'out/noon.sarif'), 'utf8'))).toMatchObject({ version: '2.1.0' });
    await gloam(folder, 'gate', '--forms', 'all');
    expect(readdirSync(path.join(folder, 'all')).sort()).toEqual(
      ['gate.json', 'gate.junit.xml', 'gate.md', 'gate.sarif', 'gate.txt', 'launch-sheet.html'].sort(),
    );
  });

  test.each([
    [['gate', '--theme', 'dask'], 'found "dask"; expected "dusk"?'],
    [['gate', '--form', 'pdf'], 'found "pdf"; expected one of text, markdown, json, junit, sarif, sheet'],
    [['gate', '--run', 'n9'], 'n9'],
    [['gate', '--store', 'nowhere'], 'nowhere'],
  ])('wrong use ends with 2 and says what was expected: %j', async (args, says) => {
    const { code, stderr } = await gloam(folder, ...args);
    expect(stderr).toContain(says);
    expect(code).toBe(2);
  });
});
