// gloam match --all on real files: what is told, what is written, and what is never touched.
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { MAIN, folderWith, gloam } from './gloam.ts';

const color = (grey: number): unknown => ({ $type: 'color', $value: { colorSpace: 'srgb', components: [grey, grey, grey] } });

function quay(): string {
  return folderWith({
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: {
        noon: { tone: 'light' },
        dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } },
      },
      tokens: { base: ['base.tokens.json'], themes: { dusk: ['dusk.tokens.json'] }, css: { prefix: 'q' } },
    }),
    'base.tokens.json': JSON.stringify({ chalk: color(1), deck: color(0.8) }),
    'dusk.tokens.json': JSON.stringify({ deck: color(0.2) }),
    'site/one.css': '\uFEFF.a { color: #FFF }\r\n.c{background: #ccc }\r\n/* #fff */\r\n.dusk .b { background: #333 }\r\n',
    'site/broken.css': '.a { color: #fff }\n.b { content: "x\n',
    'site/dial.tsx': 'export const Dial = () => <i style={{ color: "#fff" }} />;\n',
    'site/tokens.css': ':root { --q-chalk: #fff; --q-deck: #ccc }\n',
    'bare/readme.txt': 'Nothing to read here.\n',
  });
}

test('literals are told with their place and the theme of their rule; no file changes unless asked; a second run has nothing to do', async () => {
  const folder = quay();
  const read = (file: string): Buffer => readFileSync(path.join(folder, file));
  // A byte that is no UTF-8: such a file is read, and never written.
  writeFileSync(
    path.join(folder, 'site/old.css'),
    Buffer.concat([Buffer.from('/* '), Buffer.from([0xff]), Buffer.from(' */ i{color:#fff}')]),
  );
  const names = ['site/one.css', 'site/broken.css', 'site/dial.tsx', 'site/tokens.css', 'site/old.css'];
  const before = names.map(read);

  const told = await gloam(folder, 'match', '--all', 'site/**', '--json');
  expect(told.code).toBe(3);
  expect(told.stderr).toContain('site/broken.css:2:15: cannot be parsed');
  const report = JSON.parse(told.stdout) as {
    readonly literals: readonly Readonly<Record<string, unknown>>[];
    readonly definitions: number;
    readonly unreadable: readonly unknown[];
  };
  expect(report.definitions).toBe(2);
  expect(report.unreadable).toEqual([expect.objectContaining({ file: 'site/broken.css', line: 2 })]);
  const rows = report.literals.map(({ file, line, column, literal, role, theme, replacement }) => [
    `${String(file)}:${String(line)}:${String(column)}`,
    ...[literal, role, theme, replacement],
  ]);
  expect(rows).toEqual([
    ['site/dial.tsx:1:47', '#fff', 'ink', 'noon', null],
    ['site/old.css:1:17', '#fff', 'ink', 'noon', null],
    ['site/one.css:1:13', '#FFF', 'ink', 'noon', 'var(--q-chalk)'],
    ['site/one.css:2:16', '#ccc', 'surface', 'noon', null],
    ['site/one.css:4:24', '#333', 'surface', 'dusk', null],
  ]);
  expect(report.literals[3]).toMatchObject({ exact: { noon: true, dusk: false }, keep: 'deck differs in dusk' });
  expect(names.map(read)).toEqual(before);

  const wrote = await gloam(folder, 'match', '--all', 'site/**', '--write');
  expect(wrote.stdout).toContain('1 may become a token unseen, and did');
  expect(read('site/one.css').toString()).toBe(before[0]?.toString().replace('#FFF', 'var(--q-chalk)'));
  expect(names.slice(1).map(read)).toEqual(before.slice(1));

  const again = await gloam(folder, 'match', '--all', 'site/one.css', '--write');
  expect(again.code).toBe(0);
  expect(again.stdout).toContain('0 may each become a token unseen');
});

test('a folder is read however it is named: as the working folder, from above, with signs of a glob in its name', async () => {
  const folder = quay();
  mkdirSync(path.join(folder, 'site/week[1]'));
  writeFileSync(path.join(folder, 'site/week[1]/a.css'), '.a { color: #fff }');
  const from = async (...named: readonly string[]): Promise<unknown> => {
    const { stdout, stderr } = await gloam(folder, 'match', '--all', ...named, '--json');
    return stdout === '' ? stderr : (JSON.parse(stdout) as { readonly files: readonly string[] }).files;
  };
  const all = ['site/dial.tsx', 'site/one.css', 'site/tokens.css', 'site/week[1]/a.css'];
  for (const named of ['.', './', 'site', './site/', `../${path.basename(folder)}`, `../${path.basename(folder)}/s*/**`])
    expect.soft(await from(named), named).toEqual(expect.arrayContaining(all));
  expect(await from('site/week[1]')).toEqual(['site/week[1]/a.css']);
  // Somewhere else there is something to read, so it goes on.
  const { stderr } = await gloam(folder, 'match', '--all', 'site/one.css', 'bare');
  expect(stderr).toContain('bare: a folder without any file to read');
});

test.each([
  [['match'], 'takes a colour, or --all with files'],
  [['match', '#fff', '--write'], '--write goes with --all'],
  [['match', '--all', 'site/*.none'], 'site/*.none: a glob that matches no file to read.'],
  [['match', '--all', 'lost'], 'lost: no such file or folder.'],
  [['match', '--all', 'lost', 'bare', 'site/*.none'], 'lost: no such file or folder; bare: a folder without any file to read'],
  [['match', '--all', 'gloam.config.json'], 'cannot be read for literals'],
])('%j is wrong use', async (args, message) => {
  const ended = await gloam(quay(), ...args);
  expect(ended.code).toBe(2);
  expect(ended.stderr).toContain(message);
});

// Root may read everything, so as root the command is run as somebody else.
const asSomebody = process.getuid?.() === 0 ? { uid: 65534, gid: 65534 } : {};

test('a folder that may not be entered is named, the rest is read; one that is named itself is refused', () => {
  const folder = quay();
  chmodSync(folder, 0o755);
  mkdirSync(path.join(folder, 'site/locked'));
  writeFileSync(path.join(folder, 'site/locked/a.css'), 'i{color:#fff}');
  chmodSync(path.join(folder, 'site/locked'), 0o000);
  symlinkSync('loop', path.join(folder, 'site/loop'));
  const run = (...args: string[]): ReturnType<typeof spawnSync> =>
    spawnSync(process.execPath, [MAIN, ...args], { cwd: folder, encoding: 'utf8', ...asSomebody });

  const told = run('match', '--all', 'site', '--json');
  expect([told.status, told.stderr]).toEqual([3, expect.stringContaining('site/locked: cannot be read: EACCES')]);
  expect(JSON.parse(String(told.stdout))).toMatchObject({
    unreadable: [{ file: 'site/locked', reason: expect.stringContaining('EACCES') as unknown }, { file: 'site/broken.css' }],
    files: expect.arrayContaining(['site/one.css']) as unknown,
  });
  for (const named of ['site/locked/a.css', 'site/loop']) {
    const refused = run('match', '--all', named);
    expect([refused.status, refused.stderr]).toEqual([2, expect.stringContaining(`${named}: cannot be read`)]);
  }
  chmodSync(path.join(folder, 'site/locked'), 0o755);
});
