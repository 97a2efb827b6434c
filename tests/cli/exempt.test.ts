// gloam exempt as a process: from a finding to an exemption that holds in the next run, and its life after that.
import { cpSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Finding } from '../../src/samples/finding.ts';
import { gloam, quayApp } from './gloam.ts';

async function findingOf(folder: string): Promise<string> {
  await gloam(folder, 'export', 'out');
  const [line = '{}'] = readFileSync(path.join(folder, 'out/findings.ndjson'), 'utf8').split('\n');
  return (JSON.parse(line) as { readonly id: string }).id;
}

describe('gloam exempt', () => {
  test('exempts what a finding is about, no wider, from the next run on; the gate then lets the theme pass', async () => {
    const folder = quayApp({ gate: { '*': { 'text-contrast': 0 } } });
    await gloam(folder, 'run');
    expect((await gloam(folder, 'gate', '--theme', 'noon')).code).toBe(1);
    const before = JSON.parse(readFileSync(path.join(folder, 'gloam.config.json'), 'utf8')) as object;
    const id = await findingOf(folder);

    const args = ['exempt', id, '--why', 'Tide words are printed large on the quay.', '--owner', 'survey', '--until', '2099-12-31'];
    const { code, stdout } = await gloam(folder, ...args);
    expect(code).toBe(0);
    expect(stdout).toContain('gloam.config.json: exempt now: #weak (text-contrast, noon, index, rest)');
    expect(JSON.parse(readFileSync(path.join(folder, 'gloam.config.json'), 'utf8'))).toEqual({
      ...before,
      exempt: [
        {
          selector: '#weak',
          checks: ['text-contrast'],
          pages: ['index'],
          themes: ['noon'],
          states: ['rest'],
          why: 'Tide words are printed large on the quay.',
          owner: 'survey',
          until: '2099-12-31',
        },
      ],
    });
    expect((await gloam(folder, ...args)).stderr).toContain('is exempt already');

    await gloam(folder, 'run');
    expect((await gloam(folder, 'gate', '--theme', 'noon')).code).toBe(0);
    const wider = await gloam(folder, 'exempt', id, '--why', 'All of it.', '--any', 'theme');
    expect([wider.code, wider.stderr]).toEqual([
      2,
      expect.stringContaining('(#weak (text-contrast, noon, index, rest)): Tide words'),
    ]);
    const list = await gloam(folder, 'exempt');
    expect(list.stdout).toMatch(/^1 exemption: 0 over, 0 ending soon, 0 covering nothing\n/);
    expect(list.stdout).toContain('until 2099-12-31');
    expect(list.stdout).toContain('covers 1 finding');
  });

  test('leaves a TypeScript configuration alone and writes beside it', async () => {
    const folder = quayApp();
    const config = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8');
    const text = `// Kept by the survey office.\nexport default ${config};\n`;
    writeFileSync(path.join(folder, 'app.config.ts'), text);
    await gloam(folder, 'run', '--config', 'app.config.ts');
    const id = await findingOf(folder);
    const { code } = await gloam(
      folder,
      'exempt',
      id,
      '--config',
      'app.config.ts',
      '--why',
      'a sign',
      '--any',
      'theme',
      '--any',
      'state',
    );
    expect(code).toBe(0);
    expect(readFileSync(path.join(folder, 'app.config.ts'), 'utf8')).toBe(text);
    expect(JSON.parse(readFileSync(path.join(folder, 'app.exempt.json'), 'utf8'))).toEqual([
      { selector: '#weak', checks: ['text-contrast'], pages: ['index'], why: 'a sign' },
    ]);
    expect(existsSync(path.join(folder, 'gloam.exempt.json'))).toBe(false);
  });

  test('lists what is over, what ends soon and what covers nothing, even before any run', async () => {
    const inDays = (days: number): string => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
    const folder = quayApp({
      exempt: [
        { selector: '.old', why: 'one', until: '2020-01-01' },
        { selector: '.soon', why: 'two', until: inDays(3), owner: 'pilots' },
        { selector: '#weak', why: 'three' },
      ],
    });
    const before = await gloam(folder, 'exempt');
    expect(before.stdout).toMatch(/^3 exemptions: 1 over, 1 ending soon, 0 covering nothing\n/);
    await gloam(folder, 'run');
    const after = await gloam(folder, 'exempt', '--json');
    const { exemptions } = JSON.parse(after.stdout) as {
      readonly exemptions: readonly {
        readonly selector: string;
        readonly state: string;
        readonly idle: boolean;
        readonly covers: number;
      }[];
    };
    expect(exemptions.map((e) => [e.selector, e.state, e.idle, e.covers])).toEqual([
      ['.old', 'expired', true, 0],
      ['.soon', 'ending', true, 0],
      ['#weak', 'holds', false, 1],
    ]);
    const gate = await gloam(folder, 'gate', '--theme', 'dusk');
    expect(gate.code).toBe(1);
    expect(gate.stdout).toContain('1 exemption ended: .old on 2020-01-01');
    expect(gate.stdout).toContain('The exemption of .soon ends in 3 days');
  });

  test('covers findings of token files and of pictures like any other, and the run tells selectors that match nothing', async () => {
    const folder = quayApp({
      tokens: { base: ['tokens.json'] },
      mask: ['#weak', '.tide-clok'],
      stay: [{ selector: 'header', tone: 'dark' }],
      owners: [{ selector: 'h1', owner: 'survey' }],
    });
    // Dimensions want a unit (Design Tokens Format Module 2025.10 §8.2), so the token is at fault.
    writeFileSync(path.join(folder, 'tokens.json'), '{ "quay": { "gap": { "$type": "dimension", "$value": 4 } } }');
    const first = await gloam(folder, 'run');
    expect(first.stdout).toContain('! stay[0]: header matches nothing in any view');
    expect(first.stdout).toContain('! mask[1]: .tide-clok matches nothing in any view');
    expect(first.stdout.match(/matches nothing/g)).toHaveLength(2);
    await gloam(folder, 'accept', '--who', 'keeper', '--note', 'as agreed');
    writeFileSync(
      path.join(folder, 'site/board.html'),
      readFileSync(path.join(folder, 'site/board.html'), 'utf8').replace('Board', 'Berths'),
    );
    await gloam(folder, 'run');
    await gloam(folder, 'export', 'out');
    const found = readFileSync(path.join(folder, 'out/findings.ndjson'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as Finding);
    const chosen = found.filter(({ check, theme }) => check === 'token-fault' || (check === 'drift' && theme === 'dusk'));
    expect(chosen.map(({ check }) => check).sort()).toEqual(['drift', 'token-fault']);
    for (const { id } of chosen) {
      const { code, stdout } = await gloam(folder, 'exempt', id, '--why', `agreed ${id}`);
      expect(stdout).toContain('It was read back and covers the finding.');
      expect(code).toBe(0);
    }
    // A fresh copy of a checkout: all its files are younger than the run.
    const copy = mkdtempSync(path.join(tmpdir(), 'gloam-copy-'));
    await gloam(folder, 'run');
    cpSync(folder, copy, { recursive: true, preserveTimestamps: false });
    const { exemptions } = JSON.parse((await gloam(copy, 'exempt', '--json')).stdout) as {
      readonly exemptions: readonly { readonly covers: number | null; readonly idle: boolean }[];
    };
    expect(exemptions.map(({ covers }) => covers)).toEqual([1, 1]);
    const unused = { selector: '.gone', why: 'forgotten' };
    const config = JSON.parse(readFileSync(path.join(copy, 'gloam.config.json'), 'utf8')) as { exempt: object[] };
    config.exempt.push(unused);
    writeFileSync(path.join(copy, 'gloam.config.json'), JSON.stringify(config));
    expect((await gloam(copy, 'exempt')).stdout).toContain('the next run tells');
  });

  describe('wrong use ends with 2 and changes nothing', () => {
    let folder: string;
    beforeAll(async () => {
      folder = quayApp();
      await gloam(folder, 'run', '--theme', 'noon', '--page', 'board');
    });
    test.each([
      [['exempt', 'f1'], 'an exemption needs a reason'],
      [['exempt', 'f1', '--why', 'x', '--until', '2031-02-30'], 'expected a date that exists'],
      [['exempt', 'f1', '--why', 'x', '--until', '2020-02-02'], 'which is over'],
      [['exempt', 'f1', '--why', 'x', '--any', 'viewport'], 'expected one of check, page, theme, state'],
      [['exempt', 'f1', '--why', 'x'], 'f1'],
    ])('%j', async (args, says) => {
      const before = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8');
      const { code, stderr } = await gloam(folder, ...args);
      expect(stderr).toContain(says);
      expect(code).toBe(2);
      expect(readFileSync(path.join(folder, 'gloam.config.json'), 'utf8')).toBe(before);
    });
  });
});
