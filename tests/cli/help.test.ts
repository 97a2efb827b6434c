// gloam help: what there is, each page of docs/ whole, and what has a name in one of them.
import { spawn } from 'node:child_process';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { forTerminal, partsNamed, readTopics } from '../../src/cli/topics.ts';
import { gloam, MAIN } from './gloam.ts';

const DOCS = path.resolve(import.meta.dirname, '../../docs');
const topics = readTopics(DOCS);

describe('gloam help', () => {
  test('every page of docs/ is a topic, save the one that is for contributors', () => {
    const pages = readdirSync(DOCS).filter((name) => name.endsWith('.md'));
    expect(topics.map(({ name }) => `${name}.md`)).toEqual(pages.filter((name) => name !== 'architecture.md').sort());
  });

  test.each(topics)('$name is shown whole, without marks of its notation', ({ whole, title }) => {
    const shown = forTerminal(whole, 80);
    expect(title).not.toBe('');
    for (const line of shown.split('\n')) expect(line).not.toMatch(/\]\(|^```|^\||^## /);
    // The last words of the page are there.
    const words = whole
      .replace(/```/g, '')
      .trim()
      .split(/[^A-Za-z]+/)
      .filter((word) => word.length > 2);
    expect(shown).toContain(words.at(-1));
  });

  // A check, a section, an error, a word and a member of the configuration.
  test.each([
    ['neon', 'checks', 'glares on near-black'],
    ['pairs', 'tokens', 'lie on which surface'],
    ['config-invalid', 'errors', ''],
    ['backdrop', 'words', 'painted below a layer'],
    ['app.fallback', 'configuration', 'scripts make the pages'],
  ])('%s is found in %s', (name, topic, says) => {
    const parts = partsNamed(topics, name);
    expect(parts.map((part) => part.topic)).toContain(topic);
    expect(parts.map(({ text }) => text).join(' ')).toContain(says);
  });

  test('code keeps its stars, and what is emphasised loses them', () => {
    expect(forTerminal('**Globs**: `*` is *one* name, `a/**/b` any; see [pairs](tokens.md).', 80)).toBe(
      'Globs: * is one name, a/**/b any; see pairs (gloam help tokens).',
    );
  });

  test('no topic sends people to a file that only the sources have', () => {
    for (const { name, whole } of topics) expect(forTerminal(whole, 80), name).not.toMatch(/docs\/[\w-]+\.md/);
  });

  test('lists commands and topics', async () => {
    const { code, stdout } = await gloam(DOCS, 'help');
    expect(code).toBe(0);
    for (const word of ['run', 'gate', 'themes', 'tokens', 'states', 'triage', 'exemptions', 'nightly', 'stores', 'limits'])
      expect(stdout).toMatch(new RegExp(`^  ${word} `, 'm'));
  });

  test('prints a topic; a command that is a topic too names its options', async () => {
    const gate = await gloam(DOCS, 'help', 'gate');
    expect(gate.code).toBe(0);
    expect(gate.stdout).toContain('Nearest first');
    expect((await gloam(DOCS, 'help', 'neon')).stdout).toContain('From: gloam help checks');
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
