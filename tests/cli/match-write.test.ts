// gloam match --all --write and gloam exempt --selector on an app that is rendered before and after: in the browser, as a user would.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { folderWith, gloam, start } from './gloam.ts';

const hex = (text: string): unknown => ({
  $type: 'color',
  $value: { colorSpace: 'srgb', components: [1, 3, 5].map((at) => Number.parseInt(text.slice(at, at + 2), 16) / 255), hex: text },
});

const NOON = { paper: '#ffffff', panel: '#e8eef0', text: '#1b2a31', seal: '#1d4e63', wax: '#f4fafc' };
const DUSK = { paper: '#10181c', panel: '#1c282e', text: '#dfe8ec' };

const tokens = (values: Readonly<Record<string, string>>): string =>
  JSON.stringify(Object.fromEntries(Object.entries(values).map(([name, value]) => [name, hex(value)])));
const rules = (values: Readonly<Record<string, string>>): string =>
  Object.entries(values)
    .map(([name, value]) => `--${name}: ${value}`)
    .join('; ');

const CONFIGURATION = {
  app: { serve: 'site' },
  pages: ['/'],
  themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
  reference: 'noon',
  viewports: { desk: [600, 500] },
};

const SHEET = `.bar { background: var(--seal); color: var(--wax); }
.card { background: var(--panel); color: var(--text); }
.stamp { background: #1d4e63; color: #f4fafc; }
.gauge { background: #e8eef0; color: #1b2a31; }
.faint { color: #8fa0a8; }
`;

function quay(): string {
  return folderWith({
    'gloam.config.json': JSON.stringify({
      ...CONFIGURATION,
      tokens: { base: ['base.tokens.json'], themes: { dusk: ['dusk.tokens.json'] }, css: {} },
    }),
    'base.tokens.json': tokens(NOON),
    'dusk.tokens.json': tokens(DUSK),
    'site/tokens.css': `:root { ${rules(NOON)}; --fall: 0 1px 4px #8fa0a8 }\n.dusk { ${rules(DUSK)} }\n`,
    'site/app.css': SHEET,
    'site/index.html': `<!doctype html><html lang="en"><title>Quay</title><link rel="stylesheet" href="tokens.css">
<link rel="stylesheet" href="app.css"><style>body{margin:0;font:16px sans-serif;background:var(--paper);color:var(--text)}
div{margin:12px;padding:20px}</style><body><p>Quay</p><div class="bar">North quay</div><div class="card">Mole head</div>
<div class="stamp">Read at noon</div><div class="gauge">3.42 m</div><div class="faint" id="hint">Above chart datum</div>`,
  });
}

interface Exported {
  readonly findings: readonly Readonly<Record<string, string>>[];
  readonly causes: readonly { readonly why: string; readonly findings: number }[];
}

async function exported(folder: string, name: string): Promise<Exported> {
  await gloam(folder, 'export', name);
  const lines = (file: string): readonly never[] =>
    readFileSync(path.join(folder, name, file), 'utf8')
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line) as never);
  return { findings: lines('findings.ndjson'), causes: lines('causes.ndjson') };
}

test('what is written changes no picture, makes no finding, hides no cause; an exemption by selector covers from the next run on', async () => {
  const folder = quay();
  await gloam(folder, 'run');
  const before = await exported(folder, 'before');
  await gloam(folder, 'accept');
  const isStuck = ({ why }: { readonly why: string }): boolean =>
    why.startsWith('.gauge ') && why.includes('stays as it is in dusk');
  expect(before.causes.some(isStuck)).toBe(true);

  // Without token files the pages’ own properties stand in, and the same is written.
  writeFileSync(path.join(folder, 'plain.config.json'), JSON.stringify(CONFIGURATION));
  const own = await gloam(folder, 'match', '--all', 'site/app.css', '--config', 'plain.config.json', '--json');
  const replaced = (text: string): readonly unknown[] =>
    (JSON.parse(text) as { readonly literals: readonly { readonly line: number; readonly replacement: string | null }[] }).literals
      .filter(({ replacement }) => replacement !== null)
      .map(({ line, replacement }) => [line, replacement]);
  const stamp = [
    [3, 'var(--seal)'],
    [3, 'var(--wax)'],
  ];
  expect(replaced(own.stdout)).toEqual(stamp);
  // A shadow has the colour of the last rule in it, but is none; and what the pages were not seen to use is not called unused.
  expect(own.stdout).not.toContain('--fall');
  const inferred = await gloam(folder, 'tokens', '--config', 'plain.config.json', '--json');
  const { faults, counts } = JSON.parse(inferred.stdout) as {
    readonly faults: readonly { readonly code: string }[];
    readonly counts: { readonly tokens: number };
  };
  expect([counts.tokens, faults.filter(({ code }) => code === 'never-used')]).toEqual([Object.keys(NOON).length, []]);

  const wrote = await gloam(folder, 'match', '--all', 'site/app.css', '--write', '--json');
  expect(replaced(wrote.stdout)).toEqual(stamp);
  const sheet = SHEET.replace('background: #1d4e63; color: #f4fafc', 'background: var(--seal); color: var(--wax)');
  expect(readFileSync(path.join(folder, 'site/app.css'), 'utf8')).toBe(sheet);

  const faint = before.findings.find(({ selector, check }) => selector === '#hint' && check === 'text-contrast');
  const asked = await gloam(folder, 'exempt', faint?.['id'] ?? '', '--selector', '.faint', '--why', 'A hint, ordered anew.');
  expect(asked.stdout).toContain('It holds from the next gloam run on');

  const again = await gloam(folder, 'run');
  const after = await exported(folder, 'after');
  expect(again.stdout).toContain('0 new');
  expect(after.causes.some(isStuck)).toBe(true);
  // No drift: the pictures are equal.
  expect(after.findings.map(({ id }) => id)).toEqual(before.findings.map(({ id }) => id));
  const states = after.findings.filter(({ selector, check }) => selector === '#hint' && check === 'text-contrast');
  expect(states.length).toBeGreaterThan(0);
  expect(states.map(({ theme, status }) => [theme, status])).toEqual(
    states.map(({ theme }) => [theme, theme === faint?.['theme'] ? 'exempt' : 'known']),
  );
  const listed = await gloam(folder, 'exempt');
  expect(listed.stdout).toContain('0 covering nothing');

  // Every output counts the same: exempt findings are in none of the sums, unknown causes in all.
  const exempt = after.findings.filter(({ status }) => status === 'exempt').length;
  const open = after.findings.length - exempt;
  expect(exempt).toBeGreaterThan(0);
  const explained = after.causes.reduce((sum, cause) => sum + cause.findings, 0);
  const json = async <T>(...args: string[]): Promise<T> => JSON.parse((await gloam(folder, ...args, '--json')).stdout) as T;
  const sumOf = (counts: Readonly<Record<string, number>>): number => Object.values(counts).reduce((sum, n) => sum + n, 0);
  const { totals } = JSON.parse(readFileSync(path.join(folder, 'after/run.json'), 'utf8')) as { readonly totals: Totals };
  const runs = await json<readonly { readonly id: string; readonly totals: Totals }[]>('runs');
  const causes = await json<readonly { readonly findings: number }[]>('explain');
  const gate = await json<{
    readonly themes: readonly { readonly counts: Readonly<Record<'new' | 'known' | 'exempt', number>> }[];
  }>('gate');
  const report = await served(folder);
  expect(again.stdout).toMatch(new RegExp(`^${String(open)} findings?, .*; ${String(exempt)} more exempt$`, 'm'));
  expect(again.stdout).toMatch(new RegExp(`^${String(after.causes.length)} causes? of ${String(explained)} findings?`, 'm'));
  expect([sumOf(totals.findings), totals.exempt]).toEqual([open, exempt]);
  expect(runs.find(({ totals: each }) => each.exempt > 0)?.totals).toEqual(totals);
  expect([causes.length, causes.reduce((sum, { findings }) => sum + findings, 0)]).toEqual([after.causes.length, explained]);
  expect(gate.themes.map(({ counts }) => counts.new + counts.known).reduce((a, b) => a + b)).toBe(open);
  expect(gate.themes.map(({ counts }) => counts.exempt).reduce((a, b) => a + b)).toBe(exempt);
  expect(report.runs.map(({ findings }) => sumOf(findings))).toContain(open);
  expect((await gloam(folder, 'runs')).stdout).toContain(`${String(open)} finding`);
}, 120_000);

interface Totals {
  readonly findings: Readonly<Record<string, number>>;
  readonly exempt: number;
}

/** What the report’s first request answers. */
async function served(
  folder: string,
): Promise<{ readonly runs: readonly { readonly findings: Readonly<Record<string, number>> }[] }> {
  const server = start(folder, ['serve', '--port', '0']);
  const address = /http:\/\/\S+/.exec(await server.printed(/http:\/\/\S+/))?.[0] ?? '';
  try {
    const answer = await fetch(new URL('/api/runs', address));
    return (await answer.json()) as Awaited<ReturnType<typeof served>>;
  } finally {
    server.kill('SIGTERM');
    await server.ended;
  }
}
