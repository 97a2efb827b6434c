// gloam run as a process: exit codes, what stands on which stream, and what is left when it is ended.
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { folderWith, gloam, page, quayApp, start } from './gloam.ts';
import type { Ended } from './gloam.ts';

const lines = (file: string): readonly Record<string, unknown>[] =>
  readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);

describe('a run that goes well', () => {
  let folder: string;
  let first: Ended;
  beforeAll(async () => {
    folder = quayApp();
    first = await gloam(folder, 'run', '--export', 'out', '--samples');
  });

  test('exits with 0, prints a summary, and exports the files that scripts read', () => {
    const { code, stdout } = first;
    expect(code).toBe(0);
    expect(stdout).toContain('4 views captured');
    expect(stdout).toMatch(/text-contrast +1 +·/);
    const run = JSON.parse(readFileSync(path.join(folder, 'out/run.json'), 'utf8')) as Record<string, unknown>;
    expect(run).toMatchObject({
      format: 'gloam-run/1',
      reference: 'noon',
      themes: ['noon', 'dusk'],
      totals: { views: 4, failed: 0, findings: { 'text-contrast': 1 } },
    });
    expect(lines(path.join(folder, 'out/findings.ndjson'))).toMatchObject([
      { check: 'text-contrast', level: 'error', page: 'index', theme: 'noon', state: 'rest', selector: '#weak', status: 'new' },
    ]);
    // derived: (1 + .05) / (Y(#999999) + .05) with Y = .31855 by WCAG 2.2
    const [weak] = lines(path.join(folder, 'out/samples.ndjson')).filter((s) => s['selector'] === '#weak');
    expect(weak).toMatchObject({ kind: 'text', color: '#999999', background: '#ffffff', required: 4.5, verdict: 'fail' });
    expect((weak?.['contrast'] as { min: number }).min).toBeCloseTo(1.05 / 0.36855, 2);
    expect(readdirSync(path.join(folder, 'out/shots'))).toHaveLength(4);
  });

  test('the next run says what is known', async () => {
    const { stdout } = await gloam(folder, 'run');
    expect(stdout).toContain('1 finding, 0 new');
  });

  test('--json puts one document on stdout and nothing else', async () => {
    const { stdout, code } = await gloam(folder, 'run', '--json');
    expect(code).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({ ended: false, failed: [], run: { totals: { views: 4 } } });
  });

  test('--fail-on exits with 1 when something is at that level', async () => {
    const folder = quayApp();
    expect((await gloam(folder, 'run', '--fail-on', 'error')).code).toBe(1);
    expect((await gloam(folder, 'run', '--page', 'board', '--fail-on', 'note')).code).toBe(0);
  });

  test('--page and --theme narrow the plan, the reference stays', async () => {
    const { stdout } = await gloam(quayApp(), 'run', '--page', 'b*', '--theme', 'dusk');
    expect(stdout).toContain('2 views captured');
  });
});

describe('wrong use exits with 2 and says what to do', () => {
  test.each([
    [['rnu'], /unknown command 'rnu'/],
    [['run', '--pages', 'x'], /unknown option '--pages'/],
    [['run', '--workers', '0'], /whole number from 1 up/],
    [['run', '--fail-on', 'fatal'], /Expected one of error, warning, note/],
    [['run', '--page', 'harbour'], /--page harbour: matches nothing; known: index, board/],
    [['run', '--config', 'lost.json'], /lost\.json: cannot be read: there is no such file/],
    [['export', '--store', 'nowhere'], /nowhere/],
  ] as const)('%j', async (args, message) => {
    const { code, stderr } = await gloam(quayApp(), ...args);
    expect(stderr).toMatch(message);
    expect(code).toBe(2);
  });

  test('no configuration', async () => {
    const { code, stderr } = await gloam(folderWith({ 'readme.txt': '' }), 'run');
    expect(stderr).toMatch(/found no gloam\.config/);
    expect(code).toBe(2);
  });

  test('nothing was run', async () => {
    const folder = quayApp({ themes: { noon: { tone: 'lihgt' } } });
    const { code, stderr } = await gloam(folder, 'run');
    expect(code).toBe(2);
    expect(stderr).toContain('themes.noon.tone: found "lihgt"; expected one of light, dark');
    expect(existsSync(path.join(folder, '.gloam'))).toBe(false);
  });
});

describe('views that cannot be captured', () => {
  test('fail with a reason, the others go on, exit 3', async () => {
    const folder = quayApp({ pages: ['/', '/lost.html', '/board.html'] });
    const { code, stdout } = await gloam(folder, 'run', '--export', 'out');
    expect(code).toBe(3);
    expect(stdout).toContain('4 views captured');
    expect(stdout).toMatch(/lost@noon\/rest\/desk and 1 more: .*404/);
    const run = JSON.parse(readFileSync(path.join(folder, 'out/run.json'), 'utf8')) as {
      views: { page: string; status: string; error?: string }[];
    };
    expect(run.views.filter((v) => v.status === 'failed').map((v) => v.page)).toEqual(['lost', 'lost']);
    expect(run.views.find((v) => v.page === 'lost')?.error).toMatch(/404/);
  });

  test('an app that does not answer: nothing can be rendered, said plainly', async () => {
    const folder = quayApp({ app: { url: 'http://127.0.0.1:9' } });
    const { code, stderr, stdout } = await gloam(folder, 'run');
    expect([2, 3]).toContain(code);
    expect(stderr + stdout).toContain('http://127.0.0.1:9');
  });
});

describe('ending a run by hand', () => {
  test('keeps what is captured and leaves no browser behind', async () => {
    const pages = Array.from({ length: 40 }, (_, i) => ({ path: `/?n=${i}`, name: `p${i}` }));
    const folder = quayApp({ pages });
    const run = start(folder, ['run', '--workers', '1'], { CI: '1' });
    await run.printed(/\d+\/80 views/);
    run.kill('SIGINT');
    const { code, stdout } = await run.ended;
    expect(code).toBe(3);
    expect(stdout).toContain('incomplete');
    const exported = await gloam(folder, 'export', 'out');
    expect(exported.code).toBe(0);
    const { views } = JSON.parse(readFileSync(path.join(folder, 'out/run.json'), 'utf8')) as { views: { status: string }[] };
    expect(views.filter((v) => v.status === 'captured').length).toBeGreaterThan(0);
    expect(childrenOf(run.pid)).toEqual([]);
  });
});

/** Living processes whose parent was this one. */
function childrenOf(pid: number): readonly string[] {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => {
      try {
        return Number(/^\d+ \(.*\) \S (\d+)/s.exec(readFileSync(`/proc/${name}/stat`, 'utf8'))?.[1]) === pid;
      } catch {
        return false;
      }
    });
}

test('a page with a title in markup is text, not markup, in the export', async () => {
  const folder = folderWith({
    'site/index.html': page('<p id="weak" style="color:#999">&lt;b&gt;ebb&lt;/b&gt;</p>'),
    'gloam.config.json': JSON.stringify({ app: { serve: 'site' }, pages: ['/'], themes: { noon: { tone: 'light' } } }),
  });
  await gloam(folder, 'run', '--export', 'out', '--samples');
  expect(lines(path.join(folder, 'out/samples.ndjson')).map((s) => s['text'])).toContain('<b>ebb</b>');
});
