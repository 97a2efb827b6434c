// An app that lets nobody in unasked: pages are captured signed in, and no secret is found in anything that was written.
import { createServer } from 'node:http';
import type { IncomingMessage, Server } from 'node:http';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { brotliDecompressSync, gunzipSync, inflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { folderWith, page, start } from './gloam.ts';
import type { Ended } from './gloam.ts';

const PASSWORD = 'ebb&flow "7341"';
const TOKEN = 'bearer-of-the-quay-5520';
const BERTH = 'berth-cookie-8841-value';
/** What the server hands out after the sign-in: known to the app alone. */
const TICKET = 'ticket-0f3a9c71d2e84b65';
const SECRETS = [PASSWORD, TOKEN, BERTH, TICKET];
const ENV = { QUAY_PASSWORD: PASSWORD, QUAY_TOKEN: TOKEN, QUAY_BERTH: BERTH };

/** Headers that requests to the second origin came with. */
const strayed: IncomingMessage['headers'][] = [];
let signIns = 0;
let app: Server;
let elsewhere: Server;

async function listen(server: Server): Promise<string> {
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return `http://127.0.0.1:${String(address.port)}`;
}

let appAt: string;
beforeAll(async () => {
  elsewhere = createServer((request, response) => {
    strayed.push(request.headers);
    response.writeHead(200, { 'content-type': 'text/css', 'access-control-allow-origin': '*' }).end('#far { color: #222 }');
  });
  // Another host too: cookies are shared by the ports of one host (RFC 6265 §8.5).
  const elsewhereAt = (await listen(elsewhere)).replace('127.0.0.1', 'localhost');
  app = createServer((request, response) => {
    const { pathname } = new URL(request.url ?? '/', 'http://loopback');
    const { cookie = '', authorization } = request.headers;
    const html = (text: string, status = 200): void => {
      response.writeHead(status, { 'content-type': 'text/html; charset=utf-8' }).end(text);
    };
    if (authorization !== `Bearer ${TOKEN}` || !cookie.includes(`berth=${BERTH}`)) html(page('<p>Who is there?</p>'), 401);
    else if (pathname === '/enter' && request.method === 'POST') {
      let body = '';
      request.on('data', (chunk: Buffer) => (body += chunk.toString()));
      request.on('end', () => {
        if (new URLSearchParams(body).get('password') !== PASSWORD) {
          html(page(`<p role="alert">That was not right.</p>${FORM}`), 403);
          return;
        }
        signIns += 1;
        response.writeHead(303, { location: '/', 'set-cookie': `ticket=${TICKET}; HttpOnly; Path=/` }).end();
      });
    } else if (pathname === '/enter') html(page(FORM));
    else if (pathname === '/far.css') response.writeHead(302, { location: `${elsewhereAt}/far.css` }).end();
    else if (!cookie.includes(`ticket=${TICKET}`)) response.writeHead(303, { location: '/enter' }).end();
    else if (pathname === '/lost') response.writeHead(500).end();
    else
      html(
        page(
          `<link rel="stylesheet" href="/far.css"><link rel="stylesheet" href="${elsewhereAt}/direct.css">
           <nav><a href="/board">Board</a> <a href="/tides">Tides</a></nav><h1>Watch room</h1><p id="far">${pathname}</p><p>Your token: ${TOKEN}</p>`,
        ),
      );
  });
  appAt = await listen(app);
});
afterAll(() => {
  for (const server of [app, elsewhere]) {
    server.closeAllConnections();
    server.close();
  }
});

const FORM = '<form method="post"><input name="password" type="password"><button>In</button></form>';

const SCRIPT = `export default async ({ page, env, origin }) => {
  await page.goto(origin + '/enter');
  await page.fill('input', env.QUAY_PASSWORD);
  await page.click('button');
  await page.waitForURL(origin + '/');
};`;

function quay(script: string, more: Readonly<Record<string, unknown>> = {}): string {
  return folderWith({
    'sign-in.mjs': script,
    'gloam.config.json': JSON.stringify({
      app: { url: appAt },
      pages: ['/', '/board', '/tides'],
      themes: { noon: { tone: 'light' }, dusk: { tone: 'dark', apply: { class: { add: ['dusk'] } } } },
      session: { script: 'sign-in.mjs', env: ['QUAY_PASSWORD'] },
      headers: { authorization: { env: 'QUAY_TOKEN', before: 'Bearer ' } },
      cookies: { berth: { env: 'QUAY_BERTH' } },
      ...more,
    }),
  });
}

const run = (folder: string, ...args: readonly string[]): Promise<Ended> => start(folder, args, ENV).ended;

/** Every file below the folder, as it is and unpacked. */
function writtenBelow(folder: string, skip: readonly string[]): readonly (readonly [string, string])[] {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile() && !skip.includes(entry.name))
    .flatMap((entry) => {
      const file = path.join(entry.parentPath, entry.name);
      const bytes = readFileSync(file);
      return [bytes, ...unpacked(bytes)].map((some): readonly [string, string] => [file, some.toString('latin1')]);
    });
}

function unpacked(bytes: Buffer): readonly Buffer[] {
  const ways = [inflateSync, gunzipSync, brotliDecompressSync] as const;
  return ways.flatMap((way): readonly Buffer[] => {
    try {
      return [way(bytes)];
    } catch {
      return [];
    }
  });
}

describe('an app behind a sign-in', () => {
  test('is captured signed in, once for each worker, and no secret is written anywhere', async () => {
    const folder = quay(SCRIPT);
    signIns = 0;
    const made = await run(folder, 'run', '--workers', '1', '--export', 'out', '--samples');
    expect(made.stderr).not.toContain('failed');
    expect(made.code).toBe(0);
    expect(signIns).toBe(1);
    const samples = readFileSync(path.join(folder, 'out/samples.ndjson'), 'utf8');
    for (const shown of ['Watch room', '/board', '/tides']) expect(samples).toContain(shown);
    // The page shows the token; in the store there is a mark instead.
    expect(samples).toContain('Your token: ‹secret›');

    // What the app asks for goes to the app alone, also where it sends the browser elsewhere.
    expect(strayed.length).toBeGreaterThan(1);
    for (const headers of strayed) {
      expect(headers.authorization).toBeUndefined();
      expect(headers.cookie).toBeUndefined();
    }
    const gate = await run(folder, 'gate', '--forms', 'out/gate');
    const site = await run(folder, 'export', 'site', '--site');
    expect(site.code, site.stderr).toBe(0);

    const files = writtenBelow(folder, ['sign-in.mjs', 'gloam.config.json']);
    expect(files.length).toBeGreaterThan(20);
    const said = [made, gate, site].map(({ stdout, stderr }, i): readonly [string, string] => [
      `said ${String(i)}`,
      stdout + stderr,
    ]);
    for (const [where, text] of [...files, ...said])
      for (const secret of SECRETS)
        for (const form of [secret, encodeURIComponent(secret), Buffer.from(secret).toString('base64')])
          expect(text.includes(form), `${where} holds ${secret}`).toBe(false);
  });

  test('is not rendered where a variable is missing or the script is none', async () => {
    const folder = quay(SCRIPT);
    const without = await start(folder, ['run'], { ...ENV, QUAY_TOKEN: '' }).ended;
    expect(without.code).toBe(2);
    expect(without.stderr).toContain('headers.authorization.env: found QUAY_TOKEN, which is not set in the environment');
    writeFileSync(path.join(folder, 'sign-in.mjs'), 'export const signIn = 1;');
    const none = await run(folder, 'run');
    expect(none.code).toBe(2);
    expect(none.stderr).toMatch(/session\.script: found .* without such a function/);
    const gone = await run(quay(SCRIPT, { session: 'gone.mjs' }), 'run');
    expect(gone.code).toBe(2);
    expect(gone.stderr).toContain('session.script: found "gone.mjs", which does not exist');
  });

  test('fails view by view where the script throws or never ends, without telling what it was given', async () => {
    const throwing = await run(quay('export default ({ env }) => { throw new Error("cannot use " + env.QUAY_PASSWORD); };'), 'run');
    expect(throwing.code).toBe(3);
    expect(throwing.stdout).toContain('6 views could not be captured');
    // Six views, one reason.
    expect(throwing.stdout.split('sign-in.mjs:1: the sign-in failed: cannot use ‹secret›')).toHaveLength(2);
    expect(throwing.stdout).toContain('index@noon/rest/desk and 5 more: ');
    expect(throwing.stdout + throwing.stderr).not.toContain(PASSWORD);
    const endless = quay('export default () => new Promise(() => undefined);', { session: { script: 'sign-in.mjs', within: 1 } });
    const late = await run(endless, 'run');
    expect(late.code).toBe(3);
    expect(late.stdout).toContain('the sign-in failed: took longer than 1 s');
  });

  test('is looked at by init with the session that is configured, which the new configuration keeps', async () => {
    const folder = quay(SCRIPT, { pages: ['/'], themes: { noon: { tone: 'light' } } });
    const made = await run(folder, 'init', appAt, '--format', 'json', '--force');
    expect(made.code, made.stderr).toBe(0);
    const file = readFileSync(path.join(folder, 'gloam.config.json'), 'utf8');
    // derived: `/` links to both, and the sign-in is never come to.
    expect(JSON.parse(file)).toMatchObject({
      session: { script: 'sign-in.mjs', env: ['QUAY_PASSWORD'], within: 60 },
      headers: { authorization: { env: 'QUAY_TOKEN', before: 'Bearer ' } },
      cookies: { berth: { env: 'QUAY_BERTH' } },
      pages: ['/', '/board', '/tides'],
    });
    for (const secret of SECRETS) expect(file + made.stdout + made.stderr).not.toContain(secret);
    expect(made.stdout).not.toContain('There is a sign-in');
    const printed = await run(folder, 'init', appAt, '--print');
    expect(printed.stdout).toContain("  session: { script: 'sign-in.mjs', env: ['QUAY_PASSWORD'], within: 60 },");
  });

  test('says where a script stood that did not come through, and what the page said', async () => {
    const impatient = SCRIPT.replace('env.QUAY_PASSWORD', "'low tide'").replace(
      "origin + '/')",
      "origin + '/', { timeout: 1500 })",
    );
    const refused = await run(quay(impatient), 'run');
    expect(refused.code).toBe(3);
    expect(refused.stdout).toContain(
      `sign-in.mjs:5: the sign-in failed: page.waitForURL: Timeout 1500ms exceeded; the page was at ${appAt}/enter, titled "Quay", which says "That was not right." and asks for a password`,
    );
    expect(refused.stderr.split('page.waitForURL')).toHaveLength(2);
  });

  test('says of a session that does not hold that it is over, not that one is needed', async () => {
    const forgotten = `${SCRIPT.slice(0, SCRIPT.lastIndexOf('}'))}  await page.context().clearCookies();\n};`;
    const ended = await run(quay(forgotten), 'run');
    expect(ended.code).toBe(3);
    expect(ended.stdout).toContain(
      `${appAt}/board: ended at ${appAt}/enter, a page titled "Quay", which asks for a password; expected the page asked for: the session has run out or does not hold: `,
    );
    expect(ended.stdout).not.toContain('sign in with a script');
  });
});
