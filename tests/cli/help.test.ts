// gloam help: what there is, and each page of docs/ in short.
import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { forTerminal, readTopics } from '../../src/cli/topics.ts';
import { gloam, MAIN } from './gloam.ts';

const DOCS = path.resolve(import.meta.dirname, '../../docs');
const topics = readTopics(DOCS);

describe('gloam help', () => {
  test('every page of docs/ is a topic, save the one that is for contributors', () => {
    const pages = readdirSync(DOCS).filter((name) => name.endsWith('.md'));
    expect(topics.map(({ name }) => `${name}.md`)).toEqual(pages.filter((name) => name !== 'architecture.md').sort());
  });

  test.each(topics)('$name is short enough to be read at once', ({ short, title }) => {
    const lines = forTerminal(short, 80).split('\n');
    expect(title).not.toBe('');
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.length).toBeLessThanOrEqual(32);
    for (const line of lines) expect(line).not.toMatch(/\]\(|^```/);
  });

  test('lists commands and topics', async () => {
    const { code, stdout } = await gloam(DOCS, 'help');
    expect(code).toBe(0);
    for (const word of ['run', 'gate', 'themes', 'tokens', 'states', 'triage', 'exemptions', 'nightly', 'stores', 'limits'])
      expect(stdout).toMatch(new RegExp(`^  ${word} `, 'm'));
  });

  test('prints a topic and says where the rest is; a command that is a topic too names its options', async () => {
    const gate = await gloam(DOCS, 'help', 'gate');
    expect(gate.code).toBe(0);
    expect(gate.stdout).toContain('More: gate.md');
    expect(gate.stdout).toContain('Options: gloam gate --help');
    expect((await gloam(DOCS, 'help', 'prune')).stdout).toContain('Usage: gloam prune');
  });

  test('an unknown word is told with the nearest known one', async () => {
    const { code, stderr } = await gloam(DOCS, 'help', 'triaje');
    expect(code).toBe(2);
    expect(stderr).toContain('"triage"?');
  });

  test('a reader who has had enough is no fault', async () => {
    const child = spawn(process.execPath, [MAIN, 'help'], { stdio: ['ignore', 'pipe', 'pipe'] });
    child.stdout.destroy();
    let stderr = '';
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString()));
    const code = await new Promise((resolve) => child.on('close', resolve));
    expect([code, stderr]).toEqual([0, '']);
  });
});
