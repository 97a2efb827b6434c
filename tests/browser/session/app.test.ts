// The app under test: a folder, a running address, a command; and the pages found in it.
import { mkdir, mkdtemp, rm, symlink, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { discoverPages } from '../../../runner/app/discover-pages.ts';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import type { OpenApp } from '../../../runner/app/open-app.ts';
import { openApp } from '../../../runner/app/open-app.ts';
import { GloamError } from '../../../src/errors/gloam-error.ts';
import { serve } from './harness.ts';

const { signal } = new AbortController();
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'gloam-app-'));
  await mkdir(join(folder, 'site', 'tides'), { recursive: true });
  await writeFile(join(folder, 'site', 'index.html'), '<title>Board</title>');
  await writeFile(join(folder, 'site', 'help.html'), '<title>Help</title>');
  await writeFile(join(folder, 'site', 'tides', 'index.html'), '<title>Tides</title>');
  await writeFile(join(folder, 'site', 'look.css'), 'body{}');
  await writeFile(join(folder, 'site', 'chart.svg'), '<svg xmlns="http://www.w3.org/2000/svg"/>');
  await writeFile(join(folder, 'site', 'größe ä.txt'), 'ok');
  await writeFile(join(folder, 'secret.txt'), 'secret');
  await symlink(join(folder, 'secret.txt'), join(folder, 'site', 'link.txt'));
});
afterAll(() => rm(folder, { recursive: true }));

/** What was thrown, which must be one of our errors. */
async function codeOf(work: Promise<unknown>): Promise<string> {
  try {
    await work;
  } catch (error) {
    if (error instanceof GloamError) return error.code;
    throw error;
  }
  return 'nothing was thrown';
}

describe('a folder', () => {
  let app: OpenApp;
  beforeAll(async () => {
    app = await openApp({ kind: 'serve', folder: join(folder, 'site') }, signal);
  });
  afterAll(() => app.close());

  // Types by the IANA registry of media types.
  test.each([
    ['/', 200, 'text/html; charset=utf-8'],
    ['/index.html', 200, 'text/html; charset=utf-8'],
    ['/help', 200, 'text/html; charset=utf-8'],
    ['/tides/', 200, 'text/html; charset=utf-8'],
    ['/look.css', 200, 'text/css; charset=utf-8'],
    ['/chart.svg', 200, 'image/svg+xml'],
    ['/gr%C3%B6%C3%9Fe%20%C3%A4.txt', 200, 'text/plain; charset=utf-8'],
    ['/missing', 404, 'text/plain; charset=utf-8'],
    ['/%zz', 404, 'text/plain; charset=utf-8'],
    ['/../secret.txt', 404, 'text/plain; charset=utf-8'],
    ['/..%2fsecret.txt', 404, 'text/plain; charset=utf-8'],
    ['/link.txt', 404, 'text/plain; charset=utf-8'],
  ])('%s answers %i with %s', async (path, status, type) => {
    const answer = await fetch(app.origin + path);
    expect([answer.status, answer.headers.get('content-type')]).toEqual([status, type]);
  });
  test('a folder without slash leads to the one with it, so that links inside it work', async () => {
    const answer = await fetch(`${app.origin}/tides`, { redirect: 'manual' });
    expect([answer.status, answer.headers.get('location')]).toEqual([301, '/tides/']);
  });
  test('nothing but reading is allowed', async () => {
    expect((await fetch(app.origin, { method: 'POST' })).status).toBe(405);
  });
  test('is served on loopback only', () => {
    expect(app.origin).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/u);
  });
});

test('a fallback answers what may be a page; missing files stay missing', async () => {
  const app = await openApp({ kind: 'serve', folder: join(folder, 'site'), fallback: join(folder, 'site', 'index.html') }, signal);
  try {
    const statuses = await Promise.all(
      ['/alarms', '/alarms/3', '/gone.html', '/look.css', '/gone.css', '/gone.png', '/../secret.txt'].map(async (path) => {
        const { status } = await fetch(app.origin + path);
        return `${path} ${String(status)}`;
      }),
    );
    expect(statuses).toEqual([
      '/alarms 200',
      '/alarms/3 200',
      '/gone.html 200',
      '/look.css 200',
      '/gone.css 404',
      '/gone.png 404',
      '/../secret.txt 404',
    ]);
  } finally {
    await app.close();
  }
});

test('a folder that is not there', async () => {
  expect(await codeOf(openApp({ kind: 'serve', folder: join(folder, 'none') }, signal))).toBe('app-folder-missing');
});

describe('an address', () => {
  test('is used as it is, without its last slash', async () => {
    const harbour = await serve({ '/board/': 'ok' });
    const app = await openApp({ kind: 'url', url: `${harbour.origin}/board/` }, signal);
    expect(app.origin).toBe(`${harbour.origin}/board`);
    await harbour.close();
  });
  test('that nobody serves', async () => {
    expect(await codeOf(openApp({ kind: 'url', url: `http://127.0.0.1:${String(await freePort())}` }, signal))).toBe(
      'app-unreachable',
    );
  });
});

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === 'object' && address !== null ? address.port : 0;
}

describe('a command', () => {
  const server = (port: number): string =>
    `node -e "setTimeout(() => require('node:http').createServer((q, s) => s.end('ok')).listen(${String(port)}, '127.0.0.1'), 300)"`;

  test('is started, waited for and ended with everything it started', async () => {
    const port = await freePort();
    const url = `http://127.0.0.1:${String(port)}`;
    // A shell that starts the server as its child, as package scripts do.
    const app = await openApp({ kind: 'start', command: `${server(port)} & wait`, url, cwd: folder }, signal);
    expect(await (await fetch(url)).text()).toBe('ok');
    await Promise.all([app.close(), app.close()]);
    await expect(fetch(url)).rejects.toThrow();
  });
  test('that ends at once is a reason, with its last words', async () => {
    const url = `http://127.0.0.1:${String(await freePort())}`;
    await expect(
      openApp({ kind: 'start', command: 'echo no charts here >&2; exit 3', url, cwd: folder }, signal),
    ).rejects.toMatchObject({
      code: 'app-start-failed',
      message: expect.stringMatching(/exit code 3[\s\S]*no charts here/u) as string,
    });
  });
  test('is not started where something answers already', async () => {
    const harbour = await serve({ '/': 'ok' });
    expect(await codeOf(openApp({ kind: 'start', command: 'true', url: harbour.origin, cwd: folder }, signal))).toBe(
      'app-start-failed',
    );
    await harbour.close();
  });
  test('is ended when the run is aborted while it starts', async () => {
    const port = await freePort();
    const abort = new AbortController();
    const command = `node -e "setTimeout(() => require('node:http').createServer((q, s) => s.end('ok')).listen(${String(port)}, '127.0.0.1'), 1500)"`;
    const opening = openApp({ kind: 'start', command, url: `http://127.0.0.1:${String(port)}`, cwd: folder }, abort.signal);
    setTimeout(() => {
      abort.abort(new Error('enough'));
    }, 300);
    await expect(opening).rejects.toThrow();
    expect(abort.signal.aborted).toBe(true);
  });
});

describe('pages', () => {
  test('are those of a sitemap, moved to where the app answers', async () => {
    const loc = (path: string): string => `<url><loc>https://gauges.example${path}</loc></url>`;
    const harbour = await serve({
      '/sitemap.xml': `<sitemapindex><sitemap><loc>https://gauges.example/one.xml</loc></sitemap></sitemapindex>`,
      '/one.xml': `<urlset>${loc('/')}${loc('/tides?a=1&amp;b=2')}${loc('/tides?a=1&amp;b=2')}${loc('/berths/')}</urlset>`,
    });
    const pages = await discoverPages({ kind: 'sitemap', path: '/sitemap.xml' }, harbour.origin, signal);
    expect(pages.map(({ name, path }) => [name, path])).toEqual([
      ['home', '/'],
      ['tides?a=1&b=2', '/tides?a=1&b=2'],
      ['berths', '/berths/'],
    ]);
    await harbour.close();
  });
  test('a sitemap that is none is a reason', async () => {
    const harbour = await serve({ '/sitemap.xml': '<html>' });
    expect(await codeOf(discoverPages({ kind: 'sitemap', path: '/sitemap.xml' }, harbour.origin, signal))).toBe('pages-not-found');
    expect(await codeOf(discoverPages({ kind: 'sitemap', path: '/none.xml' }, harbour.origin, signal))).toBe('pages-not-found');
    await harbour.close();
  });
  test('are found by following links: inside the app, each once, no files, dead ends left out, up to a limit', async () => {
    const link = (...to: readonly string[]): string =>
      `<!doctype html><title>x</title>${to.map((href) => `<a href="${href}">x</a>`).join('')}`;
    const harbour = await serve({
      '/': link('/tides#low', '/tides', '/help', 'https://elsewhere.example/', '/chart.png', '/dead', 'mailto:a@b.example'),
      '/tides': link('/', '/late'),
      '/help': '<!doctype html><title>x</title><script>document.write(\'<a href="/made">x</a>\')</script>',
      '/made': link(),
      '/late': link(),
    });
    const pages = await discoverPages({ kind: 'follow', path: '/', limit: 10 }, harbour.origin, signal);
    expect(pages.map(({ path }) => path)).toEqual(['/', '/tides', '/help', '/late', '/made']);
    const few = await discoverPages({ kind: 'follow', path: '/', limit: 2 }, harbour.origin, signal);
    expect(few.map(({ path }) => path)).toEqual(['/', '/tides']);
    await harbour.close();
  });
});

describe('the browser', () => {
  test('is the one that the setting names', async () => {
    const found = await findBrowser(process.env);
    const path = found.path ?? '';
    if (path === '') return;
    expect(await findBrowser({ GLOAM_BROWSER: path })).toEqual({ path, version: found.version });
    expect(found.version).toMatch(/\d+\.\d+/u);
  });
  test('that the setting names but is not there is a reason', async () => {
    expect(await codeOf(findBrowser({ GLOAM_BROWSER: '/nowhere/chromium' }))).toBe('browser-failed');
  });
});
