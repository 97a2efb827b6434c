// The packed package, installed into an empty folder, works there: help, and a run against a folder of HTML.
import { execFile } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, test } from 'vitest';

const exec = promisify(execFile);
const root = path.resolve(import.meta.dirname, '..', '..');
const folder = mkdtempSync(path.join(tmpdir(), 'gloam-installed-'));

beforeAll(async () => {
  const { stdout } = await exec('npm', ['pack', '--json', '--pack-destination', folder, '--ignore-scripts'], { cwd: root });
  const packed: unknown = JSON.parse(stdout);
  const name = JSON.stringify(packed).match(/"filename":"([^"]+)"/)?.[1] ?? '';
  writeFileSync(path.join(folder, 'package.json'), '{ "private": true }\n');
  const flags = ['--ignore-scripts', '--prefer-offline', '--no-audit', '--no-fund', '--no-package-lock'];
  await exec('npm', ['install', ...flags, path.join(folder, path.basename(name))], { cwd: folder });
  // The one script that matters compiles SQLite for two minutes; the result of this checkout's own install is the same file.
  const native = path.join('node_modules', 'better-sqlite3', 'build');
  cpSync(path.join(root, native), path.join(folder, native), { recursive: true });
}, 300_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const gloam = (...args: readonly string[]): Promise<{ stdout: string; stderr: string }> =>
  exec('npx', ['--no-install', 'gloam', ...args], { cwd: folder });

test('npx gloam --help lists the commands', async () => {
  const { stdout } = await gloam('--help');
  for (const name of ['init', 'run', 'gate', 'explain', 'accept', 'serve', 'match', 'tokens', 'export'])
    expect(stdout).toContain(name);
});

test('a run against a folder of HTML finds the text that is too weak and exports it', async () => {
  mkdirSync(path.join(folder, 'site'));
  writeFileSync(
    path.join(folder, 'site', 'index.html'),
    '<!doctype html><html lang="en"><title>Quay</title><body style="background:#fff"><p id="weak" style="color:#999">Low water at noon</p></body></html>',
  );
  const themes = { noon: { tone: 'light' } };
  writeFileSync(path.join(folder, 'gloam.config.json'), JSON.stringify({ app: { serve: 'site' }, pages: ['/'], themes }));
  await gloam('run', '--export', 'out', '--samples');
  const findings = readFileSync(path.join(folder, 'out', 'findings.ndjson'), 'utf8')
    .trim()
    .split('\n');
  expect(findings).toHaveLength(1);
  expect(JSON.parse(findings[0] ?? '')).toMatchObject({ check: 'text-contrast', selector: '#weak', page: 'index', theme: 'noon' });
  const run: unknown = JSON.parse(readFileSync(path.join(folder, 'out', 'run.json'), 'utf8'));
  expect(run).toMatchObject({ format: 'gloam-run/1', totals: { views: 1, failed: 0 } });
});
