// Several runs on one store: accepted pictures and what changed since, runs that were cut off, and runs in parts.
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { gloam, quayApp, start } from './gloam.ts';

type Row = Readonly<Record<string, unknown>>;

async function findingsOf(folder: string, ...more: readonly string[]): Promise<readonly Row[]> {
  const { code, stderr } = await gloam(folder, 'export', 'out', ...more);
  expect(stderr).toBe('');
  expect(code).toBe(0);
  return readFileSync(path.join(folder, 'out/findings.ndjson'), 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Row);
}

function edit(folder: string, file: string, from: string, to: string): void {
  const place = path.join(folder, file);
  const text = readFileSync(place, 'utf8');
  expect(text).toContain(from);
  writeFileSync(place, text.replace(from, to));
}

describe('accepted pictures', () => {
  test('an unchanged night says nothing; a changed word and a changed colour are told apart', async () => {
    const folder = quayApp();
    await gloam(folder, 'run');
    const accepted = await gloam(folder, 'accept', '--note', 'first look', '--who', 'harbour office');
    expect(accepted.stdout).toMatch(/4 pictures accepted in the set main, by harbour office/);

    await gloam(folder, 'run');
    expect((await findingsOf(folder)).filter((f) => f['check'] === 'drift')).toEqual([]);

    edit(folder, 'site/board.html', 'Nothing is wrong here.', 'Nothing was wrong here.');
    edit(folder, 'site/index.html', 'html { background: #fff; color: #111 }', 'html { background: #fff; color: #004060 }');
    await gloam(folder, 'run');
    const drift = (await findingsOf(folder)).filter((f) => f['check'] === 'drift');
    expect(drift.filter((f) => f['page'] === 'board').map((f) => f['message'])).toEqual([
      expect.stringContaining('Nothing was wrong here.') as string,
      expect.stringContaining('Nothing was wrong here.') as string,
    ]);
    expect(drift.filter((f) => f['page'] === 'index').map((f) => [f['theme'], f['expected']])).toEqual([
      ['noon', expect.objectContaining({ color: 'rgb(17, 17, 17)' }) as object],
    ]);
    // One change is one cause, in all themes it shows in.
    const told = readFileSync(path.join(folder, 'out/causes.ndjson'), 'utf8').trim().split('\n');
    const causes = told.map((line) => JSON.parse(line) as Row);
    const causeOf = (page: string): readonly unknown[] => [
      ...new Set(drift.filter((f) => f['page'] === page).map((f) => f['cause'])),
    ];
    expect(causes.find(({ id }) => id === causeOf('board')[0])).toMatchObject({
      layer: 'content',
      findings: 2,
      themes: ['noon', 'dusk'],
    });
    expect([causeOf('board').length, causeOf('index').length]).toEqual([1, 1]);
    expect(causes.find(({ id }) => id === causeOf('index')[0])).toMatchObject({ layer: 'usage', findings: 1, pages: 1 });

    const tried = await gloam(folder, 'explain', String(causeOf('index')[0]), '--try');
    expect([tried.code, tried.stderr]).toEqual([2, expect.stringContaining('proposes no repair') as string]);

    // One page may be given more room than the others.
    const config = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8');
    writeFileSync(
      path.join(folder, 'gloam.config.json'),
      config.replace('"/board.html"', '{"path":"/board.html","drift":{"allowedShare":0.5}}'),
    );
    await gloam(folder, 'run');
    const less = (await findingsOf(folder)).filter((f) => f['check'] === 'drift');
    expect([...new Set(less.map((f) => f['page']))]).toEqual(['index']);

    const list = await gloam(folder, 'accept', '--list');
    const id = list.stdout.split(' ')[0] ?? '';
    expect((await gloam(folder, 'accept', '--undo', id)).stdout).toContain('undone');
    await gloam(folder, 'run');
    expect((await findingsOf(folder)).filter((f) => f['check'] === 'drift')).toEqual([]);
  });
});

describe('a run that was cut off', () => {
  test('is finished by --resume and says what an undisturbed one says', async () => {
    const pages = Array.from({ length: 6 }, (_, i) => ({ path: `/?n=${i}`, name: `p${i}` }));
    const folder = quayApp({ pages });
    const cut = start(folder, ['run', '--workers', '1'], { CI: '1' });
    await cut.printed(/[1-9]\d*\/12 views/);
    cut.kill('SIGKILL');
    await cut.ended;
    const resumed = await gloam(folder, 'run', '--resume');
    expect(resumed.code).toBe(0);
    const mended = (await findingsOf(folder)).map((f) => f['id']);
    const whole = quayApp({ pages });
    await gloam(whole, 'run');
    expect(mended).toEqual((await findingsOf(whole)).map((f) => f['id']));
    expect((await gloam(folder, 'run', '--resume')).stderr).toContain('no run of this store was cut off');
  });
});

describe('a run in parts', () => {
  test('joined, it is the undivided run', async () => {
    const folder = quayApp();
    for (const part of ['1/2', '2/2']) {
      const { code } = await gloam(folder, 'run', '--part', part, '--store', `part-${part[0] ?? ''}`);
      expect(code).toBe(0);
    }
    const joined = await gloam(folder, 'join', 'part-1', 'part-2');
    expect(joined.stderr).toBe('');
    expect(joined.stdout).toMatch(/4 views of 2 parts/);
    const parts = (await findingsOf(folder)).map(({ id, check, selector, theme }) => ({ id, check, selector, theme }));
    await gloam(folder, 'run', '--store', 'whole');
    const whole = (await findingsOf(folder, '--store', 'whole')).map(({ id, check, selector, theme }) => ({
      id,
      check,
      selector,
      theme,
    }));
    expect(parts).toEqual(whole);
    expect((await gloam(folder, 'run', '--part', '3/2')).code).toBe(2);
  });
});

describe('the store', () => {
  test('lists its runs, drops old ones, and is found whole', async () => {
    const folder = quayApp();
    await gloam(folder, 'run', '--label', 'ebb');
    await gloam(folder, 'run');
    expect((await gloam(folder, 'runs')).stdout.trim().split('\n')).toHaveLength(2);
    expect((await gloam(folder, 'runs', '--label', 'ebb')).stdout).toMatch(/4 views, 0 failed, 1 finding {2}ebb/);
    expect((await gloam(folder, 'prune', '--keep', '1')).stdout).toMatch(/^1 run dropped/);
    const health = await gloam(folder, 'doctor');
    expect(health.stdout).toContain('nothing is wrong now');
    expect(health.code).toBe(0);
  });
});
