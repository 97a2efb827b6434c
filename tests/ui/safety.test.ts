// What the server refuses: names that are not its own, other sites, changes without the token, paths, rubbish; by raw requests.
import { readdir } from 'node:fs/promises';
import { request } from 'node:http';
import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { buildServer } from '../../report-ui/server/build-server.ts';
import { readPageFiles, webFolder } from '../../report-ui/server/page-files.ts';
import { serveReports } from '../../report-ui/server/serve-reports.ts';
import { GloamError } from '../../src/errors/gloam-error.ts';
import { openLedger } from '../../src/ledger/ledger.ts';
import type { Ledger } from '../../src/ledger/ledger.ts';
import { drawnStore } from './report.ts';
import type { Store } from './report.ts';

const HOST = { host: '127.0.0.1:4646' };

let store: Store;
let ledger: Ledger;
let app: FastifyInstance;
let token: string;
beforeAll(async () => {
  store = await drawnStore();
  ledger = await openLedger(store.folder, { access: 'edit' });
  app = await build({});
  token = await tokenOf(app);
});
afterAll(async () => {
  await app.close();
  await ledger.close();
  await store.remove();
});

async function build(options: {
  readonly readOnly?: boolean;
  readonly secret?: string;
  readonly host?: string;
}): Promise<FastifyInstance> {
  const { readOnly = false, host = '127.0.0.1', secret } = options;
  const page = await readPageFiles(webFolder());
  return buildServer({ ledger, form: 'live', host, readOnly, gloam: '0.0.0', page, ...(secret === undefined ? {} : { secret }) });
}

async function tokenOf(server: FastifyInstance): Promise<string> {
  const response = await server.inject({ url: '/api/session', headers: HOST });
  const { token: held } = response.json<{ token: string | null }>();
  return held ?? '';
}

describe('asked by a name', () => {
  test.each([
    ['127.0.0.1', 200],
    ['127.0.0.1:4646', 200],
    ['localhost:1', 200],
    ['LOCALHOST', 200],
    ['[::1]:4646', 200],
    ['tides.example', 403], // DNS rebinding: another name that points here
    ['127.0.0.1.tides.example', 403],
    ['localhost.tides.example', 403],
    ['localhost@tides.example', 403],
    ['127.0.0.1:4646@tides.example', 403],
    ['192.0.2.7', 403],
    ['0.0.0.0', 403],
    ['127.0.0.1:99999999', 403],
    ['127.0.0.1/../x', 403],
    ['localhost, tides.example', 403],
  ])('%j answers %i', async (host, status) => {
    const response = await app.inject({ url: '/api/session', headers: { host } });
    expect(response.statusCode).toBe(status);
  });
});

describe('asked from a page', () => {
  test.each<[Readonly<Record<string, string>>, number]>([
    [{ origin: 'http://127.0.0.1:4646' }, 200],
    [{ origin: 'http://127.0.0.1:9999' }, 403], // another server on this machine
    [{ origin: 'http://tides.example' }, 403],
    [{ origin: 'http://127.0.0.1:4646.tides.example' }, 403],
    [{ origin: 'null' }, 403],
    [{ origin: 'file://' }, 403],
    [{ 'sec-fetch-site': 'same-origin' }, 200],
    [{ 'sec-fetch-site': 'none' }, 200],
    [{ 'sec-fetch-site': 'cross-site' }, 403],
    [{ 'sec-fetch-site': 'same-site' }, 403],
    [{ 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate' }, 403],
  ])('%j answers %i', async (headers, status) => {
    const response = await app.inject({ url: '/api/session', headers: { ...HOST, ...headers } });
    expect(response.statusCode).toBe(status);
  });

  test('a link from elsewhere may open the page itself', async () => {
    const response = await app.inject({
      url: '/',
      headers: { ...HOST, 'sec-fetch-site': 'cross-site', 'sec-fetch-mode': 'navigate' },
    });
    expect(response.statusCode).toBe(200);
  });
});

describe('changes', () => {
  const body = JSON.stringify({ run: 'newest', what: { kind: 'all' }, note: '' });
  const json = { 'content-type': 'application/json' };
  test.each<[string, () => Readonly<Record<string, string>>, number, string]>([
    ['without a token', () => json, 403, 'request-refused'],
    ['with another token', () => ({ ...json, 'x-gloam-token': 'x'.repeat(43) }), 403, 'request-refused'],
    ['with a shorter token', () => ({ ...json, 'x-gloam-token': token.slice(1) }), 403, 'request-refused'],
    [
      'as a form, which other sites can send',
      () => ({ 'content-type': 'text/plain', 'x-gloam-token': token }),
      403,
      'request-refused',
    ],
    ['from another site', () => ({ ...json, 'x-gloam-token': token, origin: 'http://tides.example' }), 403, 'request-refused'],
  ])('%s', async (_name, headers, status, code) => {
    const response = await app.inject({ method: 'POST', url: '/api/accept', headers: { ...HOST, ...headers() }, payload: body });
    expect([response.statusCode, response.json<{ code: string }>().code]).toEqual([status, code]);
  });

  test('are refused by a read-only report, which hands out no token', async () => {
    const readOnly = await build({ readOnly: true });
    expect(await tokenOf(readOnly)).toBe('');
    const response = await readOnly.inject({
      method: 'POST',
      url: '/api/accept',
      headers: { ...HOST, ...json, 'x-gloam-token': token },
      payload: body,
    });
    expect(response.statusCode).toBe(403);
    await readOnly.close();
  });

  test.each(['PUT', 'DELETE', 'PATCH', 'OPTIONS'] as const)('%s is no way to ask', async (method) => {
    const response = await app.inject({ method, url: '/api/accept', headers: HOST });
    expect(response.statusCode).toBe(404);
  });
});

describe('rubbish', () => {
  test.each<[string, string, number]>([
    ['a path out of the blobs', '/blobs/../ledger.sqlite', 404],
    ['the same, encoded', '/blobs/%2e%2e%2fledger.sqlite', 404],
    ['twice encoded', '/blobs/%252e%252e%252fledger.sqlite', 404],
    ['with backslashes', '/blobs/..%5c..%5cledger.sqlite', 404],
    ['a null byte', `/blobs/${'a'.repeat(64)}%00.png`, 404],
    ['an absolute path', '/blobs/%2fetc%2fpasswd', 404],
    ['upper case', `/blobs/${'A'.repeat(64)}`, 404],
    ['a hash nobody has', `/blobs/${'a'.repeat(64)}`, 404],
    ['a width of its own', `/thumbs/${'a'.repeat(64)}/241`, 400],
    ['a width that is no number', `/thumbs/${'a'.repeat(64)}/1e3`, 400],
    ['a crop too large', `/crops/${'a'.repeat(64)}/0-0-9999-9999`, 400],
    ['a crop of nothing', `/crops/${'a'.repeat(64)}/0-0-0-10`, 400],
    ['a crop with a sign', `/crops/${'a'.repeat(64)}/-5-0-10-10`, 400],
    ['page files out of their folder', '/assets/../../package.json', 404],
    ['page files, encoded', '/assets/%2e%2e/%2e%2e/package.json', 404],
    ['a broken escape', '/assets/%zz', 400],
    ['a run nobody has', '/api/runs/nobody/tonight', 404],
    ['a run with a path', '/api/runs/..%2f..%2fetc/tonight', 404],
    ['an unknown member', '/api/runs/newest/grid?colour=1', 400],
    ['a member twice', '/api/runs/newest/page?page=a&page=b', 400],
    ['a member missing', '/api/runs/newest/page', 400],
    ['a member too long', `/api/runs/newest/page?page=${'a'.repeat(3_000)}`, 400],
    ['an unknown check', '/api/runs/newest/findings?check=__proto__', 400],
    ['a cursor of somebody else', '/api/runs/newest/findings?after=%00%00', 400],
    ['an address nobody has', '/api/toString', 404],
    ['prototype members', '/__proto__', 404],
  ])('%s', async (_name, url, status) => {
    const response = await app.inject({ url, headers: HOST });
    expect(response.statusCode).toBe(status);
    expect(response.headers['content-type']).toContain('application/json');
    const answer = response.json<{ code: string; error: string }>();
    expect(answer.code).toMatch(/^[a-z-]+$/);
    // Texts of the machine stay on it.
    expect(answer.error).not.toContain(store.folder);
  });

  test.each<[string, string, number]>([
    ['no JSON', '{', 400],
    ['an empty body', '', 400],
    ['another shape', '[]', 400],
    ['a member too many', '{"run":"newest","what":{"kind":"all"},"note":"","force":true}', 400],
    ['prototype poisoning', '{"run":"newest","what":{"kind":"all"},"__proto__":{"x":1}}', 400],
    ['a note too long', JSON.stringify({ run: 'newest', what: { kind: 'all' }, note: 'n'.repeat(2_001) }), 400],
    ['too much', JSON.stringify({ run: 'newest', what: { kind: 'all' }, note: 'n'.repeat(600_000) }), 413],
  ])('a change with %s', async (_name, payload, status) => {
    const headers = { ...HOST, 'content-type': 'application/json', 'x-gloam-token': token };
    const response = await app.inject({ method: 'POST', url: '/api/accept', headers, payload });
    expect(response.statusCode).toBe(status);
  });

  test('what is stored but no picture is not handed out', async () => {
    const files = await readdir(`${store.folder}/blobs`, { recursive: true });
    const hashes = files.map((file) => file.replace(/[^0-9a-f]/g, '')).filter((name) => name.length >= 64);
    const statuses = new Set<string>();
    for (const name of hashes) {
      const hash = name.slice(-64);
      const response = await app.inject({ url: `/blobs/${hash}`, headers: HOST });
      statuses.add(`${String(response.statusCode)} ${String(response.headers['content-type'])}`);
    }
    expect([...statuses].sort()).toEqual(['200 image/png', '404 application/json; charset=utf-8']);
  });
});

describe('headers', () => {
  test.each(['/', '/api/session', '/api/nothing', `/blobs/${'a'.repeat(64)}`, '/api/openapi.json'])(
    '%s is locked down',
    async (url) => {
      const { headers } = await app.inject({ url, headers: HOST });
      const policy = String(headers['content-security-policy']);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("script-src 'self';");
      expect(policy).not.toContain('unsafe');
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['x-frame-options']).toBe('DENY');
      expect(headers['cross-origin-resource-policy']).toBe('same-origin');
      expect(headers['access-control-allow-origin']).toBeUndefined();
    },
  );

  test('refused names get them too', async () => {
    const { headers } = await app.inject({ url: '/', headers: { host: 'tides.example' } });
    expect(headers['content-security-policy']).toContain("default-src 'none'");
  });
});

describe('beyond loopback', () => {
  const SECRET = 'eight bells and all is well';
  test.each([
    [{ host: '0.0.0.0' }, 'beyond-loopback'],
    [{ host: '0.0.0.0', beyondLoopback: true }, 'beyond-loopback'],
    [{ host: '0.0.0.0', secret: SECRET }, 'beyond-loopback'],
    [{ host: '::', beyondLoopback: false, secret: SECRET }, 'beyond-loopback'],
    [{ host: '0.0.0.0', beyondLoopback: true, secret: 'short' }, 'secret-too-short'],
  ])('%j is refused: %s', async (options, code) => {
    const started = serveReports({ store: store.folder, ...options });
    await expect(started).rejects.toSatisfy((error) => error instanceof GloamError && error.code === code);
  });

  test('nothing is answered without the secret; the form and scripts get in with it', async () => {
    const locked = await build({ secret: SECRET });
    const asked = async (headers: Readonly<Record<string, string>>, url = '/api/session'): Promise<number> =>
      (await locked.inject({ url, headers: { ...HOST, ...headers } })).statusCode;
    expect(await asked({})).toBe(401);
    expect(await asked({}, '/')).toBe(401);
    expect(await asked({}, `/blobs/${'a'.repeat(64)}`)).toBe(401);
    expect(await asked({ authorization: `Bearer ${SECRET}` })).toBe(200);
    expect(await asked({ authorization: 'Bearer other' })).toBe(401);
    expect(await asked({ cookie: `gloam-entry=${SECRET}` })).toBe(401);
    const form = { ...HOST, 'content-type': 'application/x-www-form-urlencoded' };
    const wrong = await locked.inject({ method: 'POST', url: '/enter', headers: form, payload: 'secret=other' });
    expect(wrong.statusCode).toBe(401);
    const right = await locked.inject({
      method: 'POST',
      url: '/enter',
      headers: form,
      payload: `secret=${encodeURIComponent(SECRET)}`,
    });
    expect(right.statusCode).toBe(303);
    const cookie = String(right.headers['set-cookie']);
    expect(cookie).toMatch(/; HttpOnly; SameSite=Strict$/);
    expect(cookie).not.toContain(SECRET);
    expect(await asked({ cookie: cookie.split(';')[0] ?? '' })).toBe(200);
    await locked.close();
  });

  test('guessing is slowed down', async () => {
    const locked = await build({ secret: SECRET });
    const form = { ...HOST, 'content-type': 'application/x-www-form-urlencoded' };
    const tries: number[] = [];
    for (let n = 0; n < 12; n += 1)
      tries.push((await locked.inject({ method: 'POST', url: '/enter', headers: form, payload: 'secret=guess' })).statusCode);
    expect(tries.slice(0, 10).every((status) => status === 401)).toBe(true);
    expect(tries.slice(10)).toEqual([429, 429]);
    await locked.close();
  });
});

describe('over a socket', () => {
  /** Sends a text as it is. @returns the first line that comes back */
  async function raw(port: number, text: string): Promise<string> {
    return new Promise((resolve, reject) => {
      const socket = connect(port, '127.0.0.1', () => socket.write(text));
      let got = '';
      socket.on('data', (chunk) => {
        got += chunk.toString('latin1');
        if (got.includes('\r\n')) socket.destroy();
      });
      socket.on('close', () => {
        resolve(got.split('\r\n')[0] ?? '');
      });
      socket.on('error', reject);
      socket.setTimeout(5_000, () => socket.destroy());
    });
  }

  test('the same table of refusals holds, and it listens on loopback alone', async () => {
    const socketApp = await build({});
    await socketApp.listen({ host: '127.0.0.1', port: 0 });
    const address: AddressInfo | string | null = socketApp.server.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    expect(typeof address === 'object' && address?.address).toBe('127.0.0.1');
    const host = `Host: 127.0.0.1:${String(port)}\r\n`;
    expect(await raw(port, `GET /api/session HTTP/1.1\r\n${host}\r\n`)).toBe('HTTP/1.1 200 OK');
    expect(await raw(port, 'GET /api/session HTTP/1.1\r\nHost: tides.example\r\n\r\n')).toBe('HTTP/1.1 403 Forbidden');
    expect(await raw(port, 'GET /api/session HTTP/1.1\r\n\r\n')).toContain(' 400 ');
    expect(await raw(port, 'GET /api/session HTTP/1.0\r\n\r\n')).toContain(' 403 ');
    expect(await raw(port, `GET http://tides.example/api/session HTTP/1.1\r\n${host}\r\n`)).not.toContain(' 200 ');
    expect(await raw(port, `GET /../../etc/passwd HTTP/1.1\r\n${host}\r\n`)).toContain(' 404 ');
    expect(await raw(port, `GET /blobs/../ledger.sqlite HTTP/1.1\r\n${host}\r\n`)).toContain(' 404 ');
    expect(await raw(port, `GET /${'a'.repeat(40_000)} HTTP/1.1\r\n${host}\r\n`)).toContain(' 431 ');
    expect(await raw(port, 'RUBBISH\r\n\r\n')).toContain(' 400 ');
    const declared = await new Promise<number>((resolve, reject) => {
      const headers = {
        ...HOST,
        host: `127.0.0.1:${String(port)}`,
        'content-type': 'application/json',
        'x-gloam-token': 'x',
        'content-length': '999999999',
      };
      const asking = request({ port, host: '127.0.0.1', method: 'POST', path: '/api/accept', headers }, (response) => {
        resolve(response.statusCode ?? 0);
        asking.destroy();
      });
      asking.on('error', reject);
      asking.flushHeaders();
    });
    expect([403, 413]).toContain(declared);
    await socketApp.close();
  });
});
