// Who may ask what: the name the server was asked by, where the request came from, the secret, the token for changes; and the headers
// that keep every answer from being anything but what it is.
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { hostname, networkInterfaces } from 'node:os';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { readOnlyReport, requestRefused } from '../../src/errors/server-errors.ts';

const LOOPBACK = new Set(['localhost', '127.0.0.1', '::1', '[::1]']);

export function isLoopback(host: string): boolean {
  return LOOPBACK.has(host) || /^127\.\d{1,3}\.\d{1,3}\.\d{1,3}$/.test(host);
}

/** No inline script or style, nothing from elsewhere. */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'self'",
  "frame-ancestors 'none'",
  "require-trusted-types-for 'script'",
].join('; ');

const HEADERS = {
  'content-security-policy': POLICY,
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), microphone=(), geolocation=(), payment=(), usb=()',
} as const;

/** The headers of every answer. */
export function lockDown(reply: FastifyReply): void {
  for (const [header, value] of Object.entries(HEADERS)) void reply.header(header, value);
}

export interface GuardOptions {
  readonly host: string;
  readonly readOnly: boolean;
  readonly secret: string | undefined;
  /** Names under which a proxy in front is asked. */
  readonly publicNames: readonly string[];
  /** Path the report lies under, with a slash at both ends. */
  readonly base: string;
}

export interface Guard {
  /** Goes with every change; null when nothing can be changed. */
  readonly token: string | null;
}

/** Wrong secrets a minute before everybody has to wait. */
const MOST_TRIES = 10;
const COOKIE = 'gloam-entry';

export function guard(app: FastifyInstance, options: GuardOptions): Guard {
  const token = options.readOnly ? null : randomBytes(32).toString('base64url');
  const names = new Set([...ownNames(options.host), ...options.publicNames.map((name) => name.toLowerCase())]);
  const proxied = new Set(options.publicNames.map((name) => name.toLowerCase()));
  const entry =
    options.secret === undefined ? null : createHmac('sha256', randomBytes(32)).update(options.secret).digest('base64url');

  app.addHook('onRequest', async (request, reply) => {
    lockDown(reply);
    askedByOwnName(request, names);
    fromOwnPages(request, names, proxied);
    if (entry !== null && request.url !== '/enter' && !hasEntry(request, entry, options.secret ?? ''))
      return refuseEntry(request, reply, options.base);
    if (request.method === 'POST' && request.url !== '/enter') mayChange(request, token);
    return undefined;
  });

  if (entry !== null && options.secret !== undefined) addEntry(app, entry, options.secret, options.base);
  return { token };
}

/** Names this server answers to. Beyond loopback also the machine's own: the secret is what protects it there. */
function ownNames(host: string): ReadonlySet<string> {
  const names = new Set([...LOOPBACK, host.toLowerCase()]);
  if (isLoopback(host)) return names;
  names.add(hostname().toLowerCase());
  for (const addresses of Object.values(networkInterfaces())) {
    for (const { address, family } of addresses ?? []) names.add(family === 'IPv6' ? `[${address}]` : address);
  }
  return names;
}

/** A page elsewhere can point its own name at this machine (DNS rebinding); the name it then asks by is not one of ours. */
function askedByOwnName(request: FastifyRequest, names: ReadonlySet<string>): void {
  const host = nameOf(request.headers.host ?? '');
  // A whole address in place of a path would name a host of its own (RFC 9112 §3.2.2); only proxies are asked like that.
  const plain = request.raw.url?.startsWith('/') === true;
  if (!plain || host === null || !names.has(host)) {
    throw requestRefused(
      'This server was asked by a name that is not its own.',
      'Use the address that was printed when it started.',
    );
  }
}

/** @param proxied names of a proxy, which may ask on under another than it was asked by */
function fromOwnPages(request: FastifyRequest, names: ReadonlySet<string>, proxied: ReadonlySet<string>): void {
  const refused = requestRefused('This request comes from another site.', 'Open the report itself.');
  const { origin } = request.headers;
  if (origin !== undefined) {
    const [scheme, rest] = origin.split('://', 2);
    const name = scheme === 'http' || scheme === 'https' ? nameOf(rest ?? '') : null;
    const same = rest?.toLowerCase() === request.headers.host?.toLowerCase();
    if (name === null || !names.has(name) || !(same || proxied.has(name))) throw refused;
  }
  const site = request.headers['sec-fetch-site'];
  // A link from elsewhere may open the page; nothing else may be fetched from there.
  const opensPage = request.method === 'GET' && request.headers['sec-fetch-mode'] === 'navigate' && request.url === '/';
  if ((site === 'cross-site' || site === 'same-site') && !opensPage) throw refused;
}

/** The name without its port; null when it is no name. */
function nameOf(host: string): string | null {
  const match = /^(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(:\d{1,5})?$/i.exec(host);
  return match?.[1]?.toLowerCase() ?? null;
}

function mayChange(request: FastifyRequest, token: string | null): void {
  if (token === null) throw readOnlyReport();
  const given = request.headers['x-gloam-token'];
  if (typeof given !== 'string' || !same(given, token)) {
    throw requestRefused('Changes need the token of the page.', 'Reload the page; the token is new after each start.');
  }
  if (request.headers['content-type']?.split(';')[0]?.trim() !== 'application/json') {
    throw requestRefused('Changes are sent as application/json.', 'Set the content type.');
  }
}

function same(a: string, b: string): boolean {
  const [left, right] = [Buffer.from(a), Buffer.from(b)];
  return left.length === right.length && timingSafeEqual(left, right);
}

/** The cookie that entering gave, or the secret itself for scripts. */
function hasEntry(request: FastifyRequest, entry: string, secret: string): boolean {
  const cookies = (request.headers.cookie ?? '').split(';').map((cookie) => cookie.trim());
  if (cookies.some((cookie) => cookie.startsWith(`${COOKIE}=`) && same(cookie.slice(COOKIE.length + 1), entry))) return true;
  const { authorization } = request.headers;
  return authorization?.startsWith('Bearer ') === true && same(authorization.slice('Bearer '.length), secret);
}

function refuseEntry(request: FastifyRequest, reply: FastifyReply, base: string): FastifyReply {
  if (request.headers.accept?.includes('text/html') === true)
    return reply.code(401).type('text/html; charset=utf-8').send(entryPage('', base));
  return reply.code(401).send({
    code: 'secret-needed',
    error: 'This report needs its secret.',
    hint: 'Open it in a browser, or send the secret as a bearer token.',
  });
}

function addEntry(app: FastifyInstance, entry: string, secret: string, base: string): void {
  let tries: readonly number[] = [];
  app.addContentTypeParser('application/x-www-form-urlencoded', { parseAs: 'string', bodyLimit: 4_096 }, (_request, body, done) => {
    done(null, new URLSearchParams(String(body)).get('secret') ?? '');
  });
  app.post('/enter', (request, reply) => {
    const now = Date.now();
    tries = tries.filter((at) => now - at < 60_000);
    void reply.type('text/html; charset=utf-8');
    if (tries.length >= MOST_TRIES) return reply.code(429).send(entryPage('Too many tries; wait a minute.', base));
    if (typeof request.body !== 'string' || !same(request.body, secret)) {
      tries = [...tries, now];
      return reply.code(401).send(entryPage('That is not the secret.', base));
    }
    return reply
      .header('set-cookie', `${COOKIE}=${entry}; Path=${base}; HttpOnly; SameSite=Strict${behindTls(request) ? '; Secure' : ''}`)
      .redirect(base, 303);
  });
}

/** What a proxy in front says of the way to it. */
function behindTls({ headers }: FastifyRequest): boolean {
  return headers['x-forwarded-proto'] === 'https';
}

function entryPage(said: string, base: string): string {
  return `<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>gloam</title>
<body><main><h1>gloam</h1><form method="post" action="${base}enter"><p><label for="secret">Secret of this report</label></p>
<p><input id="secret" name="secret" type="password" autocomplete="current-password" autofocus required></p>
<p role="status">${said}</p><p><button>Enter</button></p></form></main></body></html>`;
}
