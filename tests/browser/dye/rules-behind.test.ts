// Places of which the same rules are told are painted by the same declarations: asked of the browser, place by place.
import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import type { WireRulesBehind } from '../../../runner/page/wire/written.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import { openRulesLookedUp } from '../../../runner/written/once-for-rules.ts';
import type { Under, Written, WrittenAsk } from '../../../runner/written/where-written.ts';
import { whereWritten } from '../../../runner/written/where-written.ts';
import type { Harbour } from '../session/harness.ts';
import { serve } from '../session/harness.ts';

const SHEET = `:root { --mark: #273237; --pale: var(--mark); --loop: var(--pool); --pool: var(--loop) }
.dusk { --mark: #dde0e1 }
@layer base { .layered { color: #111111 } .layered { color: #121212 !important } }
.layered { color: #131313 }
.quiet { color: var(--pale) }
.marked { color: var(--mark) }
.rim { border: 1px solid; color: olive }
.edge { border-inline-color: #246 }
.all { all: unset }
.same { color: currentcolor; outline: 2px solid }
.handed { color: inherit; background: inherit }
.looping { color: var(--loop, teal) }
@media (min-width: 1px) { .wide { background: var(--mark) } }
@media (min-width: 9000px) { .wide { background: #fedcba } }
@supports (display: grid) { .grid { color: #345 } }
@supports (display: tide) { .grid { color: #543 } }
.card { color: #223; .title { color: #334 } &.loud { color: #445 } > em { background: #556; @media (min-width: 1px) { color: #667 } } }
.card { & [title="a & b"] { color: #778 } }
@container (min-width: 1px) { .boxed { color: #889 } }
.box { container-type: inline-size }
@scope (.scoped) { b { color: #99a } :scope { color: #aab } }
svg .line { stroke: var(--pale); fill: none }`;

const PAGE = `<!doctype html><meta charset=utf-8><title>Harbour</title><link rel=stylesheet href="/harbour.css">
<ul><li class=quiet id=q1>a</li><li class=quiet id=q2>b</li><li class="quiet dusk" id=q3>c</li><li class=quiet style="--mark: red" id=q4>d</li><li class=marked id=m1>e</li><li class="marked dusk" id=m2>f</li><li class=marked style="--mark: red" id=m3>g</li></ul>
<p class=layered id=l1>a</p><p class=layered id=l2>b</p><p class=layered style="color: #141414" id=l3>c</p><p class=layered style="color: #141414 !important" id=l4>d</p>
<p class=rim id=r1>a</p><p class="rim edge" id=r2>b</p><div class=rim><i id=r3>c</i></div>
<p class=all id=a1>a</p><p class=same id=s1>a</p><div style="color:navy"><p class=same id=s2>b</p></div>
<div class=quiet><p class=handed id=h1>a</p><p class=handed id=h2>b</p></div><div class=layered><p class=handed id=h3>c</p></div>
<p class=looping id=o1>a</p><p class=wide id=w1>a</p><p class=wide id=w2>b</p><p class=grid id=g1>a</p>
<div class=card><p class=title id=c1>a</p><p class=title id=c2>b</p><em id=c3>c</em><p title="a & b" id=c4>d</p></div><div class="card loud"><p id=c5>e</p><p id=c6>f</p><p title=c id=c7>g</p></div>
<div class=box><p class=boxed id=b1>a</p><p class=boxed id=b2>b</p></div><div class=scoped><b id=k1>a</b><b id=k2>b</b></div>
<div class=quiet><a href="#x" id=n1>a</a><a id=n2>b</a><span id=n3>c</span><span id=n4>d</span><button id=n5>e</button><button disabled id=n6>f</button><button id=n7>g</button><input id=n8><input type=submit id=n9></div>
<table class=quiet><tr id=t1><td id=t2>a</td><td id=t3>b</td></tr></table>
<svg width=9 height=9><g class=line><path id=v1 d="M0 0H9"/><path id=v2 d="M0 3H9"/></g></svg>
<gauge-x id=x1 class=quiet><template shadowrootmode=open><style>:host { color: #bbc } slot { color: #ccd }</style><slot></slot></template><b id=x2>a</b></gauge-x>`;

const PROPERTIES = ['color', 'background-color', 'border-top-color', 'border-left-color', 'outline-color', 'fill', 'stroke'];

let harbour: Harbour;
let browser: Browser;
let tab: Tab;

beforeAll(async () => {
  const css: Parameters<typeof serve>[0][string] = (_request, response) => {
    response.writeHead(200, { 'content-type': 'text/css' }).end(SHEET);
  };
  const linked =
    '<!doctype html><meta charset=utf-8><title>Log</title><link rel=stylesheet href="/harbour.css"><p id=q1 class=quiet>a';
  harbour = await serve({ '/': PAGE, '/harbour.css': css, '/log': linked, '/inpage': `${linked}<style>i { color: red }</style>` });
  browser = await launchBrowser(await findBrowser(process.env));
  tab = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
  await open('/');
});

afterAll(async () => {
  await tab.close();
  await browser.close();
  await harbour.close();
});

async function open(path: string): Promise<void> {
  await tab.goto(`${harbour.origin}${path}`);
  await tab.page.waitForLoadState('load');
}

function behind(...places: readonly (readonly [string, string])[]): Promise<WireRulesBehind> {
  return tab.call('rulesBehind', { places });
}

/** Of the places' colour, one for each. */
async function told(property: string, ...ids: readonly string[]): Promise<readonly (string | null)[]> {
  const { places } = await behind(...ids.map((id) => [`#${id}`, property] as const));
  return places.map((place) => place?.told ?? null);
}

test('places of which the same is told have the same declarations, whatever the property', { timeout: 60_000 }, async () => {
  const ids = await tab.page.locator('[id]').evaluateAll((all) => all.map((el) => el.id));
  const asks = ids.flatMap((id) => PROPERTIES.map((property) => ({ selector: `#${id}`, property })));
  const { places } = await behind(...asks.map(({ selector, property }) => [selector, property] as const));
  const written = (await whereWritten(tab, asks)).map((hops) => JSON.stringify(hops.map(({ above: _, ...hop }) => hop)));
  const first = new Map<string, number>();
  const shared: number[] = [];
  for (const [at, place] of places.entries()) {
    if (place === null) continue;
    const key = `${asks[at]?.property ?? ''} ${place.told}`;
    const before = first.get(key);
    if (before === undefined) first.set(key, at);
    else {
      shared.push(at);
      expect([asks[at], written[at]]).toEqual([asks[at], written[before]]);
    }
  }
  // Neither all of them nor next to none.
  expect(shared.length).toBeGreaterThan(100);
  expect(first.size).toBeGreaterThan(60);
});

describe('what is told', () => {
  test.each([
    ['siblings of one rule', 'color', ['q1', 'q2']],
    // CSS Variables 1 §3: the root's property was put together at the root.
    ['a custom property declared nearer, which the root has used already', 'color', ['q1', 'q3', 'q4']],
    ['under layers and `!important`', 'color', ['l1', 'l2']],
    ['handed on by `inherit`', 'color', ['h1', 'h2']],
    ['a surface in a condition that holds', 'background-color', ['w1', 'w2']],
    ['nested rules', 'color', ['c1', 'c2']],
    ['the rule around it, with texts in quotes that do not match', 'color', ['c5', 'c7']],
    ['what is inherited', 'color', ['n3', 'n4']],
    ['controls of one kind', 'color', ['n5', 'n7']],
    ['cells', 'color', ['t2', 't3']],
    ['strokes', 'stroke', ['v1', 'v2']],
  ] as const)('the same: %s', async (_, property, ids) => {
    const all = await told(property, ...ids);
    expect(all[0]).toEqual(expect.any(String));
    expect(new Set(all).size).toBe(1);
  });

  test.each([
    ['a custom property declared nearer', 'color', ['m1', 'm2', 'm3']],
    ['a style attribute, important or not', 'color', ['l1', 'l3', 'l4']],
    ['another parent', 'color', ['h1', 'h3']],
    ['an ink that stands for the edge', 'border-top-color', ['s1', 's2']],
    ['a logical property', 'border-left-color', ['r1', 'r2']],
    ['a link, and what is none', 'color', ['n1', 'n2']],
    ['a control, of another kind, switched off', 'color', ['n3', 'n5', 'n6', 'n8', 'n9']],
    ['a class on the rule around, a text in quotes', 'color', ['c1', 'c5', 'c4']],
  ] as const)('not the same: %s', async (_, property, ids) => {
    const all = await told(property, ...ids);
    expect(new Set(all).size).toBe(ids.length);
    expect(all).not.toContain(null);
  });

  test.each([
    ['a condition on the container', 'color', 'b1'],
    ['a scope', 'color', 'k1'],
    ['rules of a shadow tree for its host', 'color', 'x1'],
    ['what is in a slot', 'color', 'x2'],
    ['names that lead back to themselves', 'color', 'o1'],
    ['edges in tables, which take those around them', 'border-top-color', 't2'],
    ['nothing there', 'color', 'nowhere'],
  ] as const)('nothing, for the browser alone can tell: %s', async (_, property, id) => {
    expect(await told(property, id)).toEqual([null]);
  });

  test('holds on other pages with the same files, and not where styles stand in the page', async () => {
    const place = ['#q1', 'color'] as const;
    const here = await behind(place);
    await open('/log');
    const linked = await behind(place);
    await open('/inpage');
    const inPage = await behind(place);
    await open('/');
    expect([linked.key, linked.places[0]?.told]).toEqual([here.key, here.places[0]?.told]);
    expect(inPage.key).not.toBe(here.key);
  });
});

test('one of the places that rules are behind is told by their text or looked up, once for all pages with the same files', async () => {
  const rules = openRulesLookedUp();
  const colour = (...ids: readonly string[]): readonly WrittenAsk[] => ids.map((id) => ({ selector: `#${id}`, property: 'color' }));
  const look = async (asks: readonly WrittenAsk[], under?: Under): Promise<readonly [number, number, boolean]> => {
    const { found, read, looked } = await rules.whereWritten(tab, asks, { withinMs: 60_000, under });
    const bare = (all: readonly Written[]): unknown => all.map((hops) => hops.map(({ above: _, ...hop }) => hop));
    return [read, looked, JSON.stringify(bare(found)) === JSON.stringify(bare(await whereWritten(tab, asks, { under })))];
  };
  expect(await look(colour('q1', 'q2', 'q3', 'n3', 'n4', 'm1', 'm2', 'x2', 'nowhere'))).toEqual([3, 2, true]);
  expect(await look(colour('q2', 'm2', 'm3', 'x2'))).toEqual([1, 1, true]);
  await open('/log');
  expect(await look(colour('q1'))).toEqual([0, 0, true]);
  await open('/inpage');
  expect(await look(colour('q1'))).toEqual([1, 0, true]);
  await open('/');
  expect(await look(colour('q1', 'q2'), { selector: '#q1', classes: ['hover'] })).toEqual([0, 2, true]);
});

test('what another tab is looking up is waited for, and what no time was left for is looked up the next time', async () => {
  const rules = openRulesLookedUp();
  const asks = ['q1', 'm1', 'n3', 'l1'].map((id) => ({ selector: `#${id}`, property: 'color' }));
  const cut = await rules.whereWritten(tab, asks, { withinMs: 0, under: undefined });
  expect(cut.found).toEqual([[], [], [], []]);
  const other = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
  try {
    await other.goto(`${harbour.origin}/`);
    await other.page.waitForLoadState('load');
    const wishes = { withinMs: 60_000, under: undefined };
    const [here, there] = await Promise.all([tab, other].map((each) => rules.whereWritten(each, asks, wishes)));
    expect((here?.read ?? 0) + (there?.read ?? 0)).toBe(3);
    expect((here?.looked ?? 0) + (there?.looked ?? 0)).toBe(0);
    const bare = (all: readonly Written[] = []): unknown => all.map((hops) => hops.map(({ above: _, ...hop }) => hop));
    expect(bare(here?.found)).toEqual(bare(await whereWritten(tab, asks)));
    expect(bare(there?.found)).toEqual(bare(here?.found));
  } finally {
    await other.close();
  }
});

test('a style sheet that may not be read says nothing', async () => {
  const elsewhere = await serve({
    '/far.css': (_request, response) => {
      response.writeHead(200, { 'content-type': 'text/css' }).end('p { color: #246 }');
    },
  });
  const page = `<!doctype html><meta charset=utf-8><title>Far</title><link rel=stylesheet href="${elsewhere.origin}/far.css"><p id=p>a`;
  const near = await serve({ '/': page });
  try {
    await tab.goto(`${near.origin}/`);
    await tab.page.waitForLoadState('load');
    expect((await behind(['#p', 'color'])).places).toEqual([null]);
  } finally {
    await open('/');
    await near.close();
    await elsewhere.close();
  }
});
