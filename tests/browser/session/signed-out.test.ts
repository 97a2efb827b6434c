// A session that is over, in an app that asks for the password at the address of the page, and pages that are meant to ask for one.
// Expected values are derived from what the app below shows to whom.
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Access } from '../../../runner/app/access.ts';
import { openSecrets } from '../../../runner/app/secrets.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import { PLAIN, renderAll, serve } from './harness.ts';
import type { Harbour } from './harness.ts';

const AGAIN = '<h2>Your watch has ended</h2><label>Name <input name="who"></label><label>Password <input type="password"></label>';
const DUSK: Theme = { name: 'dusk', tone: 'dark', apply: { class: { on: 'html', add: ['dusk'], remove: [] } }, tokens: {} };

/** Answers about data that a session has left. */
let left = Infinity;
let harbour: Harbour;

/** The frame of the app comes to whoever has a cookie; its data, while the session lasts. Asked again when another theme is put on. */
function app(main: string) {
  return ({ headers: { cookie = '' } }: IncomingMessage, response: ServerResponse): void => {
    const html = (text: string): void => {
      response
        .writeHead(200, { 'content-type': 'text/html; charset=utf-8' })
        .end(`<!doctype html><html lang="en"><title>Quay</title>${text}`);
    };
    if (!cookie.includes('watch=on')) {
      html(`<main>${AGAIN}</main>`);
      return;
    }
    html(`<style>.dusk{background:#123;color:#eee}</style><nav><a href="/gauges">Gauges</a></nav><main></main><script>
      const show = async () => {
        const { ok } = await fetch('/data');
        document.querySelector('main').innerHTML = ok ? ${JSON.stringify(main)} : ${JSON.stringify(AGAIN)};
      };
      new MutationObserver(show).observe(document.documentElement, { attributes: true, attributeFilter: ['class'] });
      show();</script>`);
  };
}

const open = (main: string): string => `<!doctype html><html lang="en"><title>Quay</title><main>${main}</main>`;
const SIGN_IN = `<h1>Sign in</h1><form>${AGAIN}</form>`;

beforeAll(async () => {
  harbour = await serve({
    '/': app('<h1>Watch room</h1><p>Two ships wait.</p>'),
    '/gauges': app('<h1>Gauges</h1><p>2.41 m</p>'),
    '/settings': app(
      `<h1>Settings</h1><label>Berth <input name="berth"></label><h2>Password</h2>
       <label>Old <input type="password" autocomplete="current-password"></label><label>New <input type="password" autocomplete="new-password"></label>`,
    ),
    '/end-account': app(
      `<h1>End the account</h1><p>${'What is lost with it. '.repeat(30)}</p><label>Password <input type="password"></label><button>End it</button>`,
    ),
    '/vault': app('<h1>Tide vault</h1><label>Password <input type="password"></label><button>Open</button>'),
    '/sign-in': open(SIGN_IN),
    '/en/sign-in': open(SIGN_IN),
    '/sign-up': open('<h1>Sign up</h1><label>Name <input name="who"></label><label>Password <input type="password"></label>'),
    '/data': (_request, response) => {
      left -= 1;
      response.writeHead(left < 0 ? 401 : 200).end('{}');
    },
  });
});
afterAll(() => harbour.close());
beforeEach(() => {
  left = Infinity;
});

function signedIn(): Access {
  const run: NonNullable<Access['signIn']>['run'] = async ({ context, origin }) => {
    await context.addCookies([{ name: 'watch', value: 'on', url: origin }]);
  };
  const signIn = { file: 'sign-in.mjs', run, env: {}, withinMs: 20_000 };
  return { origin: harbour.origin, secrets: openSecrets(), headers: {}, cookies: {}, signIn, states: [] };
}

async function saidOf(...paths: readonly string[]): Promise<Readonly<Record<string, string>>> {
  const results = await renderAll({
    origin: harbour.origin,
    paths,
    themes: [PLAIN, DUSK],
    request: { access: signedIn() },
  });
  return Object.fromEntries(results.map((result) => [`${result.view.page}@${result.view.theme}`, wordOf(result)]));
}

function wordOf(result: ViewResult): string {
  if (result.status === 'failed') return result.code;
  return result.notes.map(({ code }) => code).join(' ') || 'captured';
}

describe('a session that is over', () => {
  test('fails each view, with what is seen there and what to do', async () => {
    left = 0;
    const results = await renderAll({
      origin: harbour.origin,
      paths: ['/', '/gauges'],
      themes: [PLAIN, DUSK],
      request: { access: signedIn() },
    });
    expect(results.map(wordOf)).toEqual(Array.from({ length: 4 }, () => 'page-signed-out'));
    const home = results.find(({ view }) => view.page === 'home');
    expect(home?.status === 'failed' ? home.error : '').toBe(
      `${harbour.origin}/: shows a form that asks for a password in place of the page (titled "Quay", headed "Your watch has ended"); ${harbour.origin}/gauges shows the same. Probably the session has run out or does not hold: give the account that signs in a longer session, run with --workers 1 where a second sign-in ends the first, or look what the script leaves behind (session).`,
    );
  });

  test('is noticed in the middle of a page, when another theme is put on', async () => {
    left = 1;
    expect(await saidOf('/gauges', '/')).toEqual({
      'gauges@plain': 'captured',
      'gauges@dusk': 'page-signed-out',
      'home@plain': 'page-signed-out',
      'home@dusk': 'page-signed-out',
    });
  });

  test('is a doubt where there is no other page to tell it by', async () => {
    left = 0;
    expect(await saidOf('/')).toEqual({ 'home@plain': 'asks-password', 'home@dusk': 'asks-password' });
  });
});

describe('pages that ask for a password', () => {
  test('are captured while the session holds', async () => {
    const paths = ['/settings', '/sign-in', '/en/sign-in', '/gauges', '/sign-up', '/end-account'];
    const said = await saidOf(...paths);
    expect(Object.entries(said).filter(([, word]) => word !== 'captured')).toEqual([]);
    expect(Object.keys(said)).toHaveLength(12);
  });

  test('are in doubt where nothing but the old one is asked for, and strangers do not see it', async () => {
    expect(await saidOf('/vault', '/gauges')).toMatchObject({ 'vault@plain': 'asks-password', 'gauges@plain': 'captured' });
  });
});
