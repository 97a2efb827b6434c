// gloam forecast as a process: what other token files would do, held against the page itself.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { folderWith, gloam } from './gloam.ts';

const token = (hex: string): object => ({
  $value: {
    colorSpace: 'srgb',
    components: [1, 3, 5].map((at) => Number((Number.parseInt(hex.slice(at, at + 2), 16) / 255).toFixed(4))),
    hex,
  },
});
const tokens = (ink: string, page: string, card: string): string =>
  JSON.stringify({ $type: 'color', ink: token(ink), page: token(page), card: token(card) });

const css = `
  :root { --ink: #333333; --page: #ffffff; --card: #f0f0f0 }
  .dusk { --ink: #e0e0e0; --page: #101010; --card: #202020 }
  html { background: var(--page); color: var(--ink) } #card { background: var(--card); padding: 40px; margin: 40px }`;

let folder = '';
beforeAll(async () => {
  folder = folderWith({
    'site/index.html': `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Quay</title><style>${css}</style></head>
      <body><h1>Quay</h1><div id="card"><p id="level">Low water at noon</p></div></body></html>`,
    'tokens/day.tokens.json': tokens('#333333', '#ffffff', '#f0f0f0'),
    'tokens/dusk.tokens.json': tokens('#e0e0e0', '#101010', '#202020'),
    'thought/day.tokens.json': tokens('#888888', '#ffffff', '#f0f0f0'),
    'thought/gale.tokens.json': tokens('#505050', '#101010', '#202020'),
    'gloam.config.json': JSON.stringify({
      app: { serve: 'site' },
      pages: ['/'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      tokens: { base: ['tokens/day.tokens.json'], themes: { dusk: ['tokens/dusk.tokens.json'] } },
      gate: { '*': { 'text-contrast': 0 } },
    }),
  });
  expect((await gloam(folder, 'run')).code).toBe(0);
});

interface Report {
  readonly id: string;
  readonly of: string;
  readonly new: readonly { readonly check: string; readonly theme: string; readonly selector: string }[];
  readonly known: number;
  readonly gone: readonly unknown[];
  readonly tried?: { readonly shares: { readonly verdicts: number; readonly findings: number }; readonly views: number };
}

async function forecast(...args: readonly string[]): Promise<{ readonly code: number | null; readonly report: Report }> {
  const { code, stdout } = await gloam(folder, 'forecast', '--json', ...args);
  return { code, report: JSON.parse(stdout) as Report };
}

describe('gloam forecast', () => {
  test('finds what a run finds with these values, is no base for the next run, and the gate can judge it', async () => {
    const { code, report } = await forecast('--tokens', 'thought/day.tokens.json', '--try', '--fail-on', 'error');
    expect(code).toBe(1);
    // derived: #888888 on #f0f0f0 is 3.10:1, on white 3.54:1 (WCAG 2.2); dusk has values of its own
    const inNoon = report.new.filter(({ check }) => check === 'text-contrast').map(({ theme, selector }) => `${theme} ${selector}`);
    expect(inNoon).toEqual(['noon #level']);
    expect(report.tried).toMatchObject({ shares: { verdicts: 1, findings: 1 } });

    const gate = await gloam(folder, 'gate', '--forecast', report.id, '--theme', 'noon');
    expect(gate.code).toBe(1);
    expect(gate.stdout).toContain('noon would not launch yet');
    expect(gate.stdout).toContain('Foretold from the samples of another run');
    expect((await gloam(folder, 'gate', '--run', report.id)).stderr).toContain(
      'found a forecast; expected a run that was rendered',
    );
    expect((await gloam(folder, 'gate', '--theme', 'noon')).stdout).toContain('noon may launch');
    expect((await gloam(folder, 'runs')).stdout).toContain(`(forecast of ${report.of})`);
    expect((await gloam(folder, 'doctor')).code).toBe(0);
  });

  test('a theme that no page has yet is held against the one it is like', async () => {
    const { code, report } = await forecast('--tokens', 'thought/gale.tokens.json', '--as', 'gale', '--like', 'dusk');
    expect(code).toBe(0);
    // derived: #505050 on #101010 is 2.36:1, on #202020 2.01:1; the heading is large and below 3 too
    const fresh = report.new.filter(({ check }) => check === 'text-contrast').map(({ theme, selector }) => `${theme} ${selector}`);
    expect(fresh.toSorted()).toEqual(['gale #level', 'gale html > body > h1']);
    const gate = await gloam(folder, 'gate', '--forecast', report.id);
    expect(gate.stdout).toContain('gale would not launch yet');
  });

  test('without --tokens: the files as they are now, against what the pages served', async () => {
    const file = path.join(folder, 'tokens/day.tokens.json');
    const before = readFileSync(file, 'utf8');
    writeFileSync(file, tokens('#999999', '#ffffff', '#f0f0f0'));
    try {
      const { report } = await forecast();
      expect(report.new.filter(({ check }) => check === 'text-contrast').map(({ selector }) => selector)).toContain('#level');
    } finally {
      writeFileSync(file, before);
    }
  });

  test('says which file is wrong, where, and what was expected', async () => {
    mkdirSync(path.join(folder, 'wrong'), { recursive: true });
    writeFileSync(path.join(folder, 'wrong/day.tokens.json'), '{ "ink": { "$type": "color", "$value": "{nowhere}" } }');
    writeFileSync(path.join(folder, 'wrong/other.tokens.json'), tokens('#111111', '#ffffff', '#f0f0f0'));
    const say = async (...args: readonly string[]): Promise<string> => {
      const { code, stderr } = await gloam(folder, 'forecast', ...args);
      expect(code).toBe(2);
      return stderr;
    };
    expect(await say('--tokens', 'wrong/day.tokens.json')).toMatch(/day\.tokens\.json:1: ink: found .*nowhere/);
    expect(await say('--tokens', 'wrong/other.tokens.json')).toContain('found no configured token file that it could stand for');
    expect(await say('--tokens', 'missing.json')).toContain('missing.json: cannot be read');
    expect(await say('--like', 'dusk')).toContain('--like has no meaning without --as');
    expect(await say('--as', 'dusk')).toContain('has a theme of that name');
    expect(await say('--as', 'gale', '--like', 'dsk')).toContain('"dusk"?');
  });
});
