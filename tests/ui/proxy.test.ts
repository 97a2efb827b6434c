// Behind a team's proxy: under a path of its own, asked on by another name, by several readers at once; and a reader who may change
// nothing beside one who may.
import { createServer, request } from 'node:http';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Browser } from 'playwright';
import { serveReports } from '../../report-ui/server/serve-reports.ts';
import type { ReportServer } from '../../report-ui/server/serve-reports.ts';
import { NIGHTS, drawnStore, openBrowser, openPage } from './report.ts';
import type { Store } from './report.ts';

let store: Store;
let browser: Browser;
let server: ReportServer;
let reading: ReportServer;
let proxy: Server;
let address: string;

beforeAll(async () => {
  store = await drawnStore(NIGHTS);
  server = await serveReports({ store: store.folder, base: 'gloam', publicNames: ['127.0.0.1'] });
  reading = await serveReports({ store: store.folder, readOnly: true });
  const { port } = new URL(server.url);
  // Hands the path on without its base, and asks by a name of its own, as proxies do that are told nothing else.
  proxy = createServer((asked, answer) => {
    if (asked.url?.startsWith('/gloam/') !== true) {
      answer.writeHead(asked.url === '/gloam' ? 308 : 404, { location: '/gloam/' }).end();
      return;
    }
    const options = {
      host: '127.0.0.1',
      port,
      path: asked.url.slice('/gloam'.length),
      method: asked.method,
      headers: { ...asked.headers, host: `localhost:${port}` },
    };
    asked.pipe(
      request(options, (got) => {
        answer.writeHead(got.statusCode ?? 502, got.headers);
        got.pipe(answer);
      }),
    );
  });
  await new Promise<void>((resolve) => proxy.listen(0, '127.0.0.1', resolve));
  const { port: own } = proxy.address() as AddressInfo; // it listens on a port, not on a pipe
  address = `http://127.0.0.1:${String(own)}/gloam/`;
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
  proxy.closeAllConnections();
  proxy.close();
  await server.close();
  await reading.close();
  await store.remove();
});

test('the page, its pictures, its events and its changes all go through the base path', async () => {
  const { page, complaints } = await openPage(browser, `${address}#/queue`);
  await page.locator('.queue-pair img').first().waitFor();
  await expect
    .poll(() =>
      page
        .locator('.queue-pair img')
        .first()
        .evaluate((image) => (image instanceof HTMLImageElement ? image.naturalWidth : 0)),
    )
    .toBeGreaterThan(50);
  await page.keyboard.press('h');
  await page.getByLabel('To', { exact: true }).fill('harbour office');
  await page.keyboard.press('Enter');
  await page.getByText('Handed on to harbour office.').first().waitFor();
  // Somebody who may only read sees it on their own server, and is offered nothing to change.
  const reader = await openPage(browser, `${reading.url}/#/owners`);
  await reader.page.getByText('cause-faint-dusk').waitFor();
  await reader.page.goto(`${reading.url}/#/queue`);
  await reader.page.getByText('This report is read-only').waitFor();
  expect([...complaints, ...reader.complaints]).toEqual([]);
  await page.context().close();
  await reader.page.context().close();
});

test('a path that was handed on whole is understood too, and without its last slash it is put right', async () => {
  const whole = await fetch(`${server.url}/gloam/api/session`);
  expect(whole.status).toBe(200);
  const bare = await fetch(`${server.url}/gloam`, { redirect: 'manual' });
  expect([bare.status, bare.headers.get('location')]).toEqual([308, '/gloam/']);
});

test('several readers at once each get their own answers', async () => {
  const themes = ['noon', 'dusk', 'regatta', 'flip'];
  const pages = await Promise.all(
    themes.map((theme) => openPage(browser, `${address}#/findings?status=all&group=theme&theme=${theme}`)),
  );
  for (const [at, { page, complaints }] of pages.entries()) {
    await page.locator('.head-note').waitFor();
    const head = page.locator('.findings-head h2');
    if ((await head.count()) > 0) expect(await head.allTextContents()).toEqual([themes[at]]);
    expect(complaints).toEqual([]);
    await page.context().close();
  }
});

test('a name that was not given, and a page from elsewhere, are refused', async () => {
  const { hostname, port } = new URL(server.url);
  const status = (headers: Readonly<Record<string, string>>): Promise<number | undefined> =>
    new Promise((resolve, reject) => {
      request({ host: hostname, port, path: '/api/session', headers }, (got) => {
        got.resume();
        resolve(got.statusCode);
      })
        .on('error', reject)
        .end();
    });
  expect(await status({ host: 'reports.harbour.example' })).toBe(403);
  expect(await status({ host: `localhost:${port}`, origin: 'http://elsewhere.example' })).toBe(403);
  expect(await status({ host: `localhost:${port}`, origin: 'https://127.0.0.1' })).toBe(200);
});
