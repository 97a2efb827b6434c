// From a finding to its cause, and the commands on token files: a small app whose dusk points one token at the wrong step (planted).
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { folderWith, gloam } from './gloam.ts';

const hex = (n: number): { readonly colorSpace: string; readonly components: readonly number[] } => ({
  colorSpace: 'srgb',
  components: [n / 255, n / 255, n / 255],
});
/** Eleven greys, light to dark, evenly spaced in lightness as far as 8 bits go. */
const GREYS = [251, 238, 220, 198, 171, 141, 110, 84, 62, 42, 22];
const ramp = Object.fromEntries(GREYS.map((grey, step) => [String(step * 100), { $value: hex(grey) }]));
const tokens = {
  silt: { $type: 'color', ...ramp },
  face: { page: { $value: '{silt.0}' }, raised: { $value: '{silt.100}' } },
  mark: {
    main: { $value: '{silt.1000}' },
    quiet: { $value: '{silt.700}' },
    hint: { $value: '{silt.700}' },
    note: { $value: '{silt.700}' },
    unit: { $value: '{silt.700}' },
    code: { $value: '{silt.700}' },
  },
};
const dusk = {
  face: { page: { $value: '{silt.1000}' }, raised: { $value: '{silt.900}' } },
  // Planted: its siblings go to silt.300.
  mark: {
    main: { $value: '{silt.0}' },
    quiet: { $value: '{silt.600}' },
    hint: { $value: '{silt.300}' },
    note: { $value: '{silt.300}' },
    unit: { $value: '{silt.300}' },
    code: { $value: '{silt.300}' },
  },
};

type Names = Readonly<Record<string, Readonly<Record<string, { readonly $value: string }>>>>;
const rules = (names: Names): string =>
  Object.entries(names)
    .flatMap(([group, members]) =>
      Object.entries(members).map(([name, { $value }]) => `--${group}-${name}:var(--${$value.slice(1, -1).replace('.', '-')})`),
    )
    .join(';');
const css = `html{${GREYS.map((g, i) => `--silt-${i * 100}:rgb(${g} ${g} ${g})`).join(';')};${rules({ face: tokens.face, mark: tokens.mark })}}
html.dusk{${rules(dusk)}} body{background:var(--face-page);color:var(--mark-main)} section{background:var(--face-raised);padding:1em}
.quiet{color:var(--mark-quiet)} .hint{color:var(--mark-hint)} .note{color:var(--mark-note)}`;
const page = (title: string): string =>
  `<!doctype html><html lang="en"><meta charset="utf-8"><title>${title}</title><style>${css}</style><body><h1>${title}</h1>
   <section><p class="quiet">Low water</p><p class="hint">Metres</p><p class="note">Springs</p></section><p class="quiet">Harbour office</p></body></html>`;

let folder: string;
beforeAll(async () => {
  folder = folderWith({
    'site/index.html': page('Quay'),
    'site/board.html': page('Board'),
    'base.tokens.json': JSON.stringify(
      { ...tokens, face: { $type: 'color', ...tokens.face }, mark: { $type: 'color', ...tokens.mark } },
      null,
      2,
    ),
    'dusk.tokens.json': JSON.stringify({ face: { $type: 'color', ...dusk.face }, mark: { $type: 'color', ...dusk.mark } }, null, 2),
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/', '/board.html'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      tokens: { base: ['base.tokens.json'], themes: { dusk: ['dusk.tokens.json'] } },
    }),
  });
  const { code, stderr } = await gloam(folder, 'run', '--export', 'out');
  expect(stderr).not.toContain('fault of gloam');
  expect(code).toBe(0);
});

const rows = (file: string): readonly Record<string, unknown>[] =>
  readFileSync(path.join(folder, 'out', file), 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);

describe('a token that points at the wrong step in one theme', () => {
  test('is one cause of the layer token, whose repair mends all and breaks nothing', () => {
    const failing = rows('findings.ndjson').filter((f) => f['check'] === 'text-contrast');
    expect(failing.map((f) => f['theme'])).toEqual(['dusk', 'dusk', 'dusk', 'dusk']);
    const [cause] = rows('causes.ndjson');
    expect(cause).toMatchObject({ layer: 'token', token: 'mark.quiet', themes: ['dusk'], pages: 2 });
    expect(cause?.['repair']).toMatchObject({
      change: 'alias',
      of: 'mark.quiet',
      from: 'silt.600',
      themes: ['dusk'],
      fixes: 4,
      breaks: 0,
    });
    expect(failing.every((f) => f['cause'] === cause?.['id'])).toBe(true);
  });

  test('gloam explain shows the chain with file and line, and --try keeps what was promised', async () => {
    const finding = rows('findings.ndjson').find((f) => f['check'] === 'text-contrast');
    const { stdout, code } = await gloam(folder, 'explain', String(finding?.['id']), '--try');
    expect(code).toBe(0);
    expect(stdout).toContain('mark.quiet --mark-quiet: {silt.600}');
    expect(stdout).toMatch(/dusk\.tokens\.json:\d+/);
    expect(stdout).toContain('mends 4 (predicted 4), breaks 0 (predicted 0)');
  });

  test('gloam explain takes the first digits of an id for it, where no other begins so', async () => {
    const id = String(rows('causes.ndjson')[0]?.['id']);
    expect((await gloam(folder, 'explain', id.slice(0, 12))).stdout).toBe((await gloam(folder, 'explain', id)).stdout);
    const ids = [...rows('findings.ndjson'), ...rows('causes.ndjson')].map((row) => String(row['id']));
    const twice = ids.map((one) => one.slice(0, 1)).find((digit, at, all) => all.indexOf(digit) !== at) ?? '';
    const { code, stderr } = await gloam(folder, 'explain', twice);
    expect(stderr).toContain(`${twice}: several ids begin so, such as ${twice}`);
    expect(code).toBe(2);
  });

  test('gloam explain without a name lists the causes; an unknown one is wrong use', async () => {
    expect((await gloam(folder, 'explain')).stdout).toContain('mark.quiet');
    const { code, stderr } = await gloam(folder, 'explain', 'ebb');
    expect(stderr).toContain('has no such finding or cause');
    expect(code).toBe(2);
  });
});

describe('the commands on token files', () => {
  test('gloam tokens finds the definition out of line, without a browser', async () => {
    const { stdout, code } = await gloam(folder, 'tokens', '--json');
    expect(code).toBe(0);
    const report = JSON.parse(stdout) as {
      readonly problems: readonly unknown[];
      readonly faults: readonly Record<string, unknown>[];
    };
    expect(report.problems).toEqual([]);
    expect(report.faults.filter((f) => f['code'] === 'alias-out-of-line')).toMatchObject([
      { layer: 'token', token: 'mark.quiet', themes: ['dusk'] },
    ]);
  });

  test('gloam match names the token of that colour first', async () => {
    const { stdout, code } = await gloam(folder, 'match', 'rgb(84 84 84)', '--on', 'face.raised', '--json');
    expect(code).toBe(0);
    const { matches } = JSON.parse(stdout) as {
      readonly matches: readonly { readonly token: string; readonly confidence: string }[];
    };
    // mark.quiet is that colour too, but fails in dusk.
    expect(['mark.hint', 'mark.note', 'mark.unit', 'mark.code']).toContain(matches[0]?.token);
    expect(matches[0]?.confidence).toBe('same');
    expect((await gloam(folder, 'match', 'bluish')).code).toBe(2);
  });

  test('gloam export --site writes a report that opens from disk', async () => {
    const { code, stdout } = await gloam(folder, 'export', 'report', '--site');
    expect(code).toBe(0);
    expect(stdout).toMatch(/index\.html: \d+ files/);
    expect(existsSync(path.join(folder, 'report', 'index.html'))).toBe(true);
    // Over itself it may write, over an app it must not.
    expect((await gloam(folder, 'export', 'report', '--site')).code).toBe(0);
    const over = await gloam(folder, 'export', 'site', '--site');
    expect(over.code).toBe(2);
    expect(over.stderr).toContain('which is no part of a report');
    expect(readFileSync(path.join(folder, 'site', 'index.html'), 'utf8')).toContain('Harbour office');
  });
});
