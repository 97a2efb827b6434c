// Which addresses are the page that was asked for. Rows: what web servers, routers and sign-ins do to addresses; common practice, from
// memory, except where RFC 3986 (§6.2.2, spellings of the same letters) says so.
import { describe, expect, test } from 'vitest';
import { askedOf, isPlace, landingFault } from '../../runner/app/landing.ts';

const AT = 'http://127.0.0.1:4100';

type Row = readonly [asked: string, ended: string, loadedFrom?: string];
const at = (path: string): string => (path.startsWith('http') ? path : AT + path);
const isThere = (asked: string, ended: string, from = ended): boolean =>
  isPlace(at(asked), { href: at(ended), loadedFrom: at(from) });

describe('the same page', () => {
  test.each<Row>([
    ['/tides', '/tides'],
    ['/tides', '/tides/'],
    ['/tides/', '/tides'],
    ['/tides.html', '/tides'],
    ['/tides', '/tides.html'],
    ['/tides', '/tides/index.html'],
    ['/', '/index.html'],
    ['/index.html', '/'],
    ['/tides', '/tides#low'],
    ['/tides#low', '/tides'],
    ['/', '/#/watch'],
    ['/#/watch', '/#/watch?day=2'],
    ['/#!/watch', '/#!/watch/'],
    ['/h%C3%B6he', '/höhe'],
    ['/list?tab=2', '/list?tab=2&sort=name'],
    ['/list?tab=2', '/list/?tab=2'],
    // A script read it and tidied the address.
    ['/list?tab=2', '/list', '/list?tab=2'],
    ['/tides', 'http://localhost:4100/tides'],
    ['http://quay.example/tides', 'https://quay.example/tides'],
  ])('%s ends at %s', (asked = '', ended = '', from = ended) => {
    expect(isThere(asked, ended, from)).toBe(true);
  });
});

describe('another page', () => {
  test.each<Row>([
    ['/tides', '/sign-in'],
    ['/tides', '/sign-in?next=%2Ftides'],
    ['/tides', '/'],
    ['/', '/tides'],
    ['/tides', '/tides/today'],
    ['/tides/today', '/tides'],
    ['/Tides', '/tides-old'],
    ['/#/watch', '/#/sign-in'],
    ['/#/watch', '/'],
    ['/app?route=watch', '/app?route=sign-in'],
    // The server dropped what was asked.
    ['/app?route=watch', '/app'],
    ['/tides', 'http://127.0.0.1:4200/tides'],
    ['/tides', 'https://sign-in.example/tides'],
    ['/tides', 'about:blank'],
    ['/tides', 'chrome-error://chromewebdata/'],
  ])('%s ends at %s', (asked = '', ended = '', from = ended) => {
    expect(isThere(asked, ended, from)).toBe(false);
  });
});

const LANDED = { loadedFrom: at('/sign-in'), title: 'Quay', heading: 'Who is there?', asksPassword: true };

test('a page that ends elsewhere says where, what was seen there and what to do', () => {
  const fault = landingFault(askedOf({ path: '/tides' }, at('/tides')), { ...LANDED, href: at('/sign-in'), status: 200 });
  expect(fault?.code).toBe('page-landed-elsewhere');
  expect(fault?.message).toBe(
    `${AT}/tides: ended at ${AT}/sign-in, a page titled "Quay", headed "Who is there?", which asks for a password; expected the page asked for: sign in with a script (session), or say that it leads there (lands).`,
  );
});

test('where the run is let in, it says that this is over', () => {
  const saidOf = (by: 'session' | 'headers', asksPassword: boolean): string | undefined =>
    landingFault(
      { ...askedOf({ path: '/tides' }, at('/tides')), by },
      { ...LANDED, asksPassword, href: at('/sign-in'), status: 200 },
    )?.message.replace(/^.*expected the page asked for: /u, '');
  expect(saidOf('session', true)).toBe(
    'the session has run out or does not hold: give the account that signs in a longer session, run with --workers 1 where a second sign-in ends the first, or look what the script leaves behind (session), or say that it leads there (lands).',
  );
  expect(saidOf('headers', true)).toBe(
    'the app does not take what it is sent: look at headers and cookies, or sign in with a script (session), or say that it leads there (lands).',
  );
  expect(saidOf('session', false)).toMatch(/^name the address it leads to \(if it is the sign-in, the session has run out /u);
});

describe('what the configuration says of a page', () => {
  const codeOf = (page: { lands?: string; status?: number }, href: string, status = 200): string | undefined =>
    landingFault(askedOf({ path: '/tides', ...page }, at('/tides')), { ...LANDED, href: at(href), loadedFrom: at(href), status })
      ?.code;

  test('lands: it has to end there, and nowhere else', () => {
    expect(codeOf({ lands: '/sign-in' }, '/sign-in')).toBeUndefined();
    expect(codeOf({ lands: 'https://sign-in.example/' }, 'https://sign-in.example/')).toBeUndefined();
    expect(codeOf({ lands: '/sign-in' }, '/tides')).toBe('page-landed-elsewhere');
    expect(codeOf({ lands: '/sign-in' }, '/')).toBe('page-landed-elsewhere');
  });

  // RFC 9110 §15: 2xx is success, 304 says that what the browser kept is still so; 0 is a browser that does not tell.
  test.each([
    [200, undefined],
    [203, undefined],
    [304, undefined],
    [0, undefined],
    [300, 'page-http-error'],
    [404, 'page-http-error'],
    [500, 'page-http-error'],
  ] as const)('status %i', (status, code) => {
    expect(codeOf({}, '/tides', status)).toBe(code);
  });

  test('status: it has to be that', () => {
    expect(codeOf({ status: 404 }, '/tides', 404)).toBeUndefined();
    expect(codeOf({ status: 404 }, '/tides', 200)).toBe('page-http-error');
  });
});
