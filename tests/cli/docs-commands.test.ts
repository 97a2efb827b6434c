// Every gloam command in README.md and docs/*.md is run on a small app; every other command line is checked as far as it can be.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { built, gloam, quayApp, start } from './gloam.ts';

const ROOT = path.resolve(import.meta.dirname, '../..');
const PAGES = ['README.md', ...readdirSync(path.join(ROOT, 'docs')).map((name) => `docs/${name}`)].filter((name) =>
  name.endsWith('.md'),
);
const TEXTS = PAGES.map((page) => ({ page, text: readFileSync(path.join(ROOT, page), 'utf8') }));

interface Block {
  readonly page: string;
  readonly language: string;
  readonly text: string;
}

const BLOCKS = TEXTS.flatMap(({ page, text }) =>
  [...text.matchAll(/```(\w*)\n([\s\S]*?)```/g)].map(([, language = '', block = '']): Block => ({ page, language, text: block })),
);

/** In code blocks: from `gloam` to the end of the line or to what the shell does next. In running text: the whole of a code span. */
function commands(): readonly string[] {
  const inBlocks = BLOCKS.flatMap(({ text }) =>
    [...text.matchAll(/(?:^|npx |&& )gloam ((?:"[^"]*"|'[^'\n]*'|[^\n"'|&>])+)/gm)].map((match) => match[1] ?? ''),
  );
  const inLines = TEXTS.flatMap(({ text }) =>
    [...text.replace(/```[\s\S]*?```/g, '').matchAll(/`gloam ([^`]+)`/g)].map((match) => match[1] ?? ''),
  );
  return [...new Set([...inBlocks, ...inLines].map((command) => command.trim()))];
}

/** What stands for something of the reader's, and what it is here. Brackets mark what may be left out. */
const STANDS_FOR: Readonly<Record<string, string>> = {
  COLOUR: '#999999',
  BACKGROUND: '#ffffff',
  FOLDER: 'taken-out',
  TOPIC: 'states',
  TOKEN: 'ink',
  COPY: 'changed/tokens.json',
  'ramps.tokens.json': 'changed/tokens.json',
  'night.tokens.json': 'changed/tokens.json',
};

function argumentsOf(command: string, known: Readonly<Record<string, string>>): readonly string[] {
  const words = [...command.replace(/\[[^\]]*\]/g, '').matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map(
    (match) => match[1] ?? match[2] ?? match[3] ?? '',
  );
  return words.map((word, place) => {
    // The app itself lies in `site` here.
    if (word === 'site' && command.startsWith('export')) return 'report';
    if (word === 'NAME') return words[place - 1] === '--page' ? 'index' : 'dusk';
    return (known[word] ?? STANDS_FOR[word] ?? word).replace(/\$\{\{[^}]*\}\}|\$\w+/g, 'new-pier').replace('/srv/harbour/', '');
  });
}

/** Run in a way of their own below, or by the test named. */
const OWN_WAY = [
  { command: /^serve/, why: 'runs until it is told to end' },
  { command: /^run --watch/, why: 'runs until it is told to end' },
  { command: /^(?:work|run --on-queue)/, why: 'tests/cli/many-machines.test.ts: they need a database' },
  { command: /^store copy .*postgres:/, why: 'tests/postgres/bucket.test.ts: it needs a database and a bucket' },
  { command: /^init/, why: 'tests/cli/init.test.ts: it explores an app without a configuration, which takes its time' },
];

describe('commands in README.md and docs/', () => {
  let folder: string;
  const known: Record<string, string> = {};
  beforeAll(async () => {
    folder = quayApp({ pages: ['/'], tokens: { base: ['tokens.json'] } });
    const value = { colorSpace: 'srgb', components: [0.46, 0.46, 0.46], hex: '#757575' };
    mkdirSync(path.join(folder, 'app'));
    for (const name of ['quay.css', 'quay.scss', 'quay.tsx']) {
      writeFileSync(
        path.join(folder, 'app', name),
        name.endsWith('x') ? "export const ink = '#757575';" : '.ink { color: #757575 }',
      );
    }
    const ink = (color: object): string => JSON.stringify({ ink: { $type: 'color', $value: color } });
    writeFileSync(path.join(folder, 'tokens.json'), ink(value));
    mkdirSync(path.join(folder, 'changed'));
    writeFileSync(path.join(folder, 'changed', 'tokens.json'), ink({ ...value, components: [0.3, 0.3, 0.3], hex: '#4d4d4d' }));
    await built(folder, 'run', '--export', 'exported');
    const foretold = await built(folder, 'forecast', '--tokens', 'changed/tokens.json', '--json');
    known['ID'] = (JSON.parse(foretold.stdout) as { readonly id: string }).id;
    const rows = (file: string): readonly { readonly id: string; readonly check?: string }[] =>
      readFileSync(path.join(folder, 'exported', file), 'utf8')
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => JSON.parse(line) as { readonly id: string; readonly check?: string });
    // Of a place on a page: those of token files are made only where the whole plan is rendered at once.
    known['FINDING'] = rows('findings.ndjson').find(({ check }) => check === 'text-contrast')?.id ?? 'none';
    known['CAUSE'] = rows('causes.ndjson')[0]?.id ?? 'none';
  });

  const alone = commands().filter((command) => !OWN_WAY.some((each) => each.command.test(command)));
  // Once each, whatever they call the same thing; what exempts a finding comes last, or nothing were left to explain.
  const once = new Map(alone.map((command) => [argumentsOf(command, {}).join(' '), command]));
  const here = [...once.values()].sort((one, other) => Number(one.startsWith('exempt F')) - Number(other.startsWith('exempt F')));
  test('there are some on most pages', () => {
    expect(here.length).toBeGreaterThan(25);
  });

  // Each command once as people call it; with other words the same way within this process, which takes half of the time.
  const nameOf = (command: string): string | undefined => command.split(' ')[0];
  const callOf = (command: string): typeof built =>
    here.find((other) => nameOf(other) === nameOf(command)) === command ? built : gloam;
  // The newest run may be one that a command before narrowed.
  let isWhole = false;
  test.each(here)('gloam %s', async (command) => {
    if (command.startsWith('exempt F') && !isWhole) isWhole = (await gloam(folder, 'run')).code === 0;
    const { code, stderr } = await callOf(command)(folder, ...argumentsOf(command, known));
    // 1: the gate says no. 2 would be wrong use, 3 a view that failed.
    expect([0, 1], stderr).toContain(code);
  });

  test.each(commands().filter((command) => /^(?:serve|run --watch)/.test(command)))('gloam %s, until Ctrl-C', async (command) => {
    const running = start(folder, [...argumentsOf(command, known), ...(command.startsWith('serve') ? ['--port', '0'] : [])]);
    await running.printed('Ctrl-C ends');
    running.kill('SIGINT');
    expect((await running.ended).code).toBe(0);
  });
});

/** Lines of shell blocks that no test runs, each with the reason. */
const NOT_RUN = [
  { line: /^npm (?:ci|cit|install|run demo)\b/, why: 'installs or runs everything; continuous integration starts with npm cit' },
  { line: /^mail /, why: 'sends a letter' },
  { line: /^node build\.mjs$/, why: 'tests/cli/first-half-hour.test.ts runs it' },
  { line: /^(?:cd|mkdir|export) /, why: 'changes nothing but the shell' },
  { line: /^(?:#|$)/, why: 'says something, or nothing' },
];

describe('shell blocks', () => {
  const shell = BLOCKS.filter(({ language }) => language === 'sh');
  test.each(shell)('$page: $text', ({ text }) => {
    const read = spawnSync('sh', ['-n'], { input: text, encoding: 'utf8' });
    expect(read.stderr).toBe('');
    for (const line of text.split('\n')) {
      const isOurs = /(?:^|npx |&& )gloam /.test(line);
      expect(isOurs || NOT_RUN.some((each) => each.line.test(line.trim())), `neither run nor listed: ${line}`).toBe(true);
    }
  });

  // POSIX crontab: five fields, then the command; systemd.syntax: sections and assignments.
  test('tables of cron and units of systemd have their form', () => {
    const cron = BLOCKS.filter(({ text }) => text.startsWith('# crontab'));
    for (const { text } of cron)
      for (const line of text.split('\n').filter((each) => each !== '' && !each.startsWith('#')))
        expect(line).toMatch(/^(?:[\d*/,-]+ ){5}\S/);
    const units = BLOCKS.filter(({ language }) => language === 'ini');
    expect(cron.length + units.length).toBeGreaterThan(1);
    for (const { text } of units) for (const line of text.trim().split('\n')) expect(line).toMatch(/^(?:#.*|\[\w+\]|\w+=.*|)$/);
  });
});

describe('links', () => {
  test.each(TEXTS)('$page: what it links to is there', ({ page, text }) => {
    const links = [...text.replace(/```[\s\S]*?```/g, '').matchAll(/\]\((?!https?:)([^)#]+)(?:#[^)]*)?\)/g)].map(
      (match) => match[1] ?? '',
    );
    for (const link of links) expect(existsSync(path.join(ROOT, path.dirname(page), link)), link).toBe(true);
  });
});
