import type { Browser } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { asksFor } from '../../../runner/origins/asks.ts';
import { colorsIn } from '../../../runner/origins/colors-in.ts';
import type { Traced } from '../../../runner/origins/trace-origins.ts';
import { openTracing } from '../../../runner/origins/trace-origins.ts';
import { decodePng } from '../../../runner/driver/decode-png.ts';
import { placePseudo } from '../../../runner/text/place-pseudo.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import { takePicture } from '../../../runner/tab/take-picture.ts';
import type { Origin } from '../../../src/samples/paint.ts';
import type { Harbour } from '../session/harness.ts';
import { serve } from '../session/harness.ts';
import type { DyeCase } from './cases.table.ts';
import { CASES } from './cases.table.ts';

const RULES = { exempt: [], owners: [], stay: [], mask: [] };

let harbour: Harbour;
let browser: Browser;
let tab: Tab;

beforeAll(async () => {
  harbour = await serve({
    ...Object.fromEntries(CASES.map((each, at) => [`/${String(at)}`, pageOf(each)])),
    '/fallbacks': FALLBACKS,
    '/schemes': SCHEMES,
  });
  browser = await launchBrowser(await findBrowser(process.env));
  tab = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
  await tab.setViewport({ name: 'desk', widthCssPx: 400, heightCssPx: 300, scale: 1 });
});

afterAll(async () => {
  await tab.close();
  await browser.close();
  await harbour.close();
});

function pageOf({ css = '', html }: Pick<DyeCase, 'css' | 'html'>): string {
  return `<!doctype html><meta charset=utf-8><title>Harbour</title><style>${css}</style><body>${html}`;
}

/** Derived: `--silt` is declared, `--card` and `--deck` are not; `--edge` falls back to two colours, `--gap` to none. */
const FALLBACKS = pageOf({
  css: `:root { --silt: #ddd }
    #x { background: var(--card, var(--deck, #fff)); color: var(--ink, var(--silt)); margin: var(--room, 4px) }
    p { border: 1px solid var(--edge, #ccc); outline-color: var(--edge, #bbb); fill: var(--gap); stroke: var(--own, #123) }
    aside { --own: #456 }`,
  html: '<main id=x><p>Gauge<aside>North</aside></main>',
});

/** CSS Color 5 §7: one of both by the scheme of the element; §3: half of #ff0000 and #0000ff in sRGB is (0.5, 0, 0.5). */
const SCHEMES = pageOf({
  css: `:root { color-scheme: dark; --page: light-dark(#fff, rgb(1 2 3)); --nested: light-dark(red, light-dark(blue, lime)) }
    :root { --mix: color-mix(in srgb, #f00, light-dark(#0f0, #00f)); --fall: 0 1px 2px light-dark(#ccc, #000); --own: color-mix(in srgb, currentcolor, red) }
    aside { color-scheme: light; --page: light-dark(#eee, #111) }
    main { color: var(--page); background: var(--mix) }`,
  html: '<main id=x>Gauge<aside>North</aside></main>',
});

async function open(at: number | string): Promise<void> {
  await tab.goto(`${harbour.origin}/${String(at)}`);
  await tab.page.waitForLoadState('load');
  await tab.call('freeze', { on: true });
}

async function trace(): Promise<Traced> {
  const collected = await tab.call('collect', { rules: RULES });
  const placed = collected.text.pseudo.length === 0 ? [] : await placePseudo(tab, collected.text.pseudo);
  const { runs, grounds } = await tab.call('placePseudo', { placed });
  const text = { ...collected.text, grounds, runs: [...collected.text.runs, ...runs] };
  const tracing = await openTracing(tab, asksFor(text, collected.places), { known: [], canvas: text.canvas });
  return await tracing.trace();
}

async function computed(selector: string, property: string): Promise<string> {
  return await tab.page.evaluate(
    ({ selector: where, property: name }) => {
      const [, base = '', pseudo] = /^(.*?)(::[a-z-]+)?$/.exec(where) ?? [];
      let root: Document | ShadowRoot = document;
      const parts = base.split(' >>> ');
      for (const part of parts.slice(0, -1)) root = root.querySelector(part)?.shadowRoot ?? root;
      const el = root.querySelector(parts.at(-1) ?? '');
      if (el === null) return '';
      // The paint of a drawing stands on its shape.
      const shape = el.localName === 'svg' ? (el.querySelector('path') ?? el) : el;
      return getComputedStyle(shape, pseudo ?? null).getPropertyValue(name);
    },
    { selector, property },
  );
}

function shown(origin: Origin): string {
  switch (origin.kind) {
    case 'token':
      return [
        `token ${origin.property}${origin.alpha === 1 ? '' : `*${String(origin.alpha)}`}`,
        ...(origin.pageWide === undefined ? [] : [`~ ${origin.pageWide}`]),
        ...(origin.step === undefined ? [] : [`> ${origin.step}`]),
        ...(origin.fallback === true ? ['(fallback)'] : []),
      ].join(' ');
    case 'derived':
      return ['derived', ...origin.properties].join(' ');
    case 'inferred':
      return `inferred ${origin.token}`;
    case 'literal':
    case 'system':
      return origin.kind;
    case 'unknown':
      return `unknown: ${origin.why}`;
  }
}

describe('which custom property painted it', () => {
  test.each(CASES.map((each, at) => [each.name, each, at] as const))(
    '%s',
    async (_name, { at = '#x', property = 'color', which = 0, is }, index) => {
      await open(index);
      const value = await computed(at, property);
      const traced = await trace();
      expect(await computed(at, property), 'the computed value afterwards').toBe(value);
      expect(shown(traced.originOf(at, property, colorsIn(value)[which]?.text))).toBe(is);
    },
  );
});

test('what nothing declares is told by the one colour that all its uses fall back to', async () => {
  await open('fallbacks');
  const { served } = await trace();
  const told = served.map(({ name, value, at }) => `${name} ${value} ${at}`).toSorted();
  expect(told).toEqual(['--card #fff ', '--deck #fff ', '--ink #ddd ', '--own #456 #x > aside', '--silt #ddd html']);
});

test('one of two for the scheme and mixes are told as the colours they come to', async () => {
  await open('schemes');
  const { served } = await trace();
  const told = served.map(({ name, value, at }) => `${name} ${value} ${at}`).toSorted();
  expect(told).toEqual([
    '--fall 0 1px 2px #000 html',
    '--mix color(srgb 0.5 0 0.5) html',
    '--nested lime html',
    '--own color-mix(in srgb, currentcolor, red) html',
    '--page #eee #x > aside',
    '--page rgb(1 2 3) html',
  ]);
});

describe('the page is left as it was', () => {
  const pictured = [0, 4, 18, 23, 30, 34, 37, 40, 43, 45];
  test.each(pictured.map((at) => [CASES[at]?.name ?? '', at] as const))('same picture, same document: %s', async (_name, index) => {
    await open(index);
    const look = async (): Promise<{
      readonly pixels: Uint8Array | Uint8ClampedArray;
      readonly html: string;
      readonly sheets: number;
    }> => {
      const { png } = await takePicture(tab, [0, 0, 400, 300], 1);
      const { data } = await decodePng(png, { leftPx: 0, topPx: 0 });
      const [html, sheets] = await tab.page.evaluate(
        () => [document.documentElement.outerHTML, document.adoptedStyleSheets.length] as const,
      );
      return { pixels: data, html, sheets };
    };
    const before = await look();
    await trace();
    expect(await look()).toEqual(before);
  });

  test('observers of the page see nothing', async () => {
    await open(1);
    await tab.page.evaluate(() => {
      const seen: string[] = [];
      Reflect.set(window, 'seen', seen);
      new MutationObserver((records) => seen.push(...records.map((record) => record.type))).observe(document, {
        subtree: true,
        childList: true,
        attributes: true,
        characterData: true,
      });
      new ResizeObserver((entries) => {
        if (entries.length > 1) seen.push('resize');
      }).observe(document.body);
      document.addEventListener('transitionrun', () => seen.push('transition'));
    });
    await trace();
    await tab.call('rest', { quietMs: 50, grows: false, withinMs: 2000 });
    expect(await tab.page.evaluate(() => Reflect.get(window, 'seen') as unknown)).toEqual([]);
  });
});
