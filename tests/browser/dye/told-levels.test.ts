// What the text of style sheets tells of a place is what the browser answers when it is asked: layers, imports, nesting, parts of elements,
// styles in the page.
import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import { openSheets } from '../../../runner/written/sheets.ts';
import type { ReadFile } from '../../../runner/written/told-levels.ts';
import { openToldSheets } from '../../../runner/written/told-levels.ts';
import type { Written, WrittenAsk } from '../../../runner/written/where-written.ts';
import { trace, whereWritten } from '../../../runner/written/where-written.ts';
import type { Answer, Harbour } from '../session/harness.ts';
import { serve } from '../session/harness.ts';

const LAYERS = `@layer a, b;
@layer b {
  .x { color: #111; &:not(.zz) { background: #aaa; @media (min-width: 1px) { color: #222 !important; @supports (color: red) { border-color: #333 } outline: 2px solid #abc } } }
}
@layer a { .x { color: #444 !important } @layer deep { .x { fill: #fee; box-shadow: 0 0 1px #123 } } .x { fill: #dee } }
@layer { .x { color: #555 } .x::before { content: "b"; color: #666 } }
.x { /* tide */ color: #777; color: nonsense; color: oklch(0.5 0.1 20); &::before { background: #888 } .y & { color: #989; @media (min-width: 99999px) { color: red } } --q: 1; outline-color: #ace }
.x:AFTER { color: red }
.x:nth-child(ODD of .x) { background-color: #eea !important }
.x:-moz-bad { color: red }
input.x::placeholder { color: var(--pale) }
:root { --pale: ; --mark: #246 }
.m { color: var(--mark); border: var(--width, 2px) solid var(--mark) }
@media (min-width: 9000px) { .m { color: #357 } }`;

const IMPORTING = `@import "layers.css" layer(imported);
@import url(more.css) layer(imported.in) supports(color: red) screen;
@import "more.css" print;
.x { --w: "}"; stroke: var(--w); background-image: linear-gradient(#111, #222) }
.x, .x:is(.k, #id9) { color: #010203 }
*.x[data-a=b] { outline-color: #0e0e0e }`;

const MORE = '.x { color: #999; fill: #9a9; stroke: #9b9 } @layer z { .x { stroke: #fff } }';

// Colours as the browser tells those of attributes.
const BODY = `<p class=x>a<b class=x>b</b></p>
<div class=y><p class="x k" data-a=b>c</p><p class="x zz" style="color: red; color: blue !important; background: nonsense">d</p></div>
<p style="color: red }">e</p><p class=m>f <i style="--mark: #fed">g</i> <u class=m style="--mark: #edf">h</u></p><input class=x placeholder=q>
<section class=made>i</section><section class=put>j</section>
<svg stroke=currentcolor fill="rgb(17, 51, 85)" color=" rgb(34, 68, 102) "><path d="M0 0h9" fill=nonsense /></svg><svg class=x fill="rgb(17, 51, 85)" stroke="rgb(34, 68, 102)" color=none></svg>`;

const head = (styles: string): string => `<!doctype html>\n<meta charset=utf-8><title>Harbour ⚓</title>\n${styles}\n${BODY}`;

const PAGES: Readonly<Record<string, string>> = {
  '/linked': head('<link rel=stylesheet href=layers.css>'),
  '/importing': head(
    '<link rel=stylesheet href=importing.css><style>@import "more.css";\n .x { border: 1px solid #abcdef }</style><style media=print>.x { border-color: #fed }</style><link rel=stylesheet href=layers.css><style>.x { border-top-color: #fedcba }</style>',
  ),
  // The same length, so that their texts tell them apart.
  '/inpage': head(`<style>\n${LAYERS}</style><i></i> <style>.m { color: #111 }</style> <style>.x { color: #222 }</style>`),
  '/scripted': head(
    `<link rel=stylesheet href=layers.css><script>const made = document.createElement('style'); made.textContent = '.made { color: #135 }'; document.head.append(made); const put = document.createElement('style'); document.head.append(put); put.sheet.insertRule('.put { color: #246 }'); const apart = new CSSStyleSheet(); apart.replaceSync('.made { background: #357 }'); document.adoptedStyleSheets = [apart]</script>`,
  ),
};

const PROPERTIES = [
  'color',
  'background-color',
  'background-image',
  'border-top-color',
  'outline-color',
  'fill',
  'stroke',
  'box-shadow',
];

let harbour: Harbour;
let browser: Browser;
let tab: Tab;

beforeAll(async () => {
  const css =
    (text: string): Answer =>
    (_request, response) => {
      response.writeHead(200, { 'content-type': 'text/css' }).end(text);
    };
  harbour = await serve({ ...PAGES, '/layers.css': css(LAYERS), '/importing.css': css(IMPORTING), '/more.css': css(MORE) });
  browser = await launchBrowser(await findBrowser(process.env));
  tab = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
});

afterAll(async () => {
  await tab.close();
  await browser.close();
  await harbour.close();
});

const ELEMENTS = [
  'p',
  'p > b',
  '.k',
  '.zz',
  'p[style]:not(.x)',
  '.m',
  '.m > i',
  'u.m',
  'input',
  '.made',
  '.put',
  'svg:not(.x)',
  'svg.x',
];
const ASKS: readonly WrittenAsk[] = [...ELEMENTS, 'p::before', '.k::before', 'input::placeholder'].flatMap((selector) =>
  PROPERTIES.map((property) => ({ selector, property })),
);

/** Where `above` of the two differs nothing else does: the browser counts boxes of its own. */
const bare = (hops: Written): unknown => hops.map(({ above: _, ...hop }) => hop);

/** Of each place what its text tells; null where it does not. */
async function told(files = new Map<string, ReadFile>()): Promise<readonly (Written | null)[]> {
  const behind = await tab.call('rulesBehind', { places: ASKS.map(({ selector, property }) => [selector, property] as const) });
  const sheets = openToldSheets(files);
  await sheets.read(tab, behind);
  const places = openSheets(tab, sheets.headers);
  return Promise.all(
    ASKS.map(async ({ property }, at) => {
      const levels = behind.places[at]?.levels ?? null;
      const known = levels === null ? null : sheets.levels(behind.rules, levels);
      return known === null ? null : await trace(places, known, property);
    }),
  );
}

test.each([
  ['/linked', 90],
  ['/importing', 90],
  ['/inpage', 90],
  ['/scripted', 90],
])('%s', async (path, least) => {
  await tab.goto(`${harbour.origin}${path}`);
  await tab.page.waitForLoadState('load');
  const byText = await told();
  const asked = await whereWritten(tab, ASKS);
  // Of parts of controls the browser lists nothing.
  const isListed = (at: number): boolean => ASKS[at]?.selector !== 'input::placeholder';
  for (const [at, written] of byText.entries())
    if (written !== null && isListed(at)) expect([ASKS[at], bare(written)]).toEqual([ASKS[at], bare(asked[at] ?? [])]);
  expect(byText.filter((written) => written !== null).length).toBeGreaterThanOrEqual(least);
  // Places that nothing paints would agree anyway.
  expect(byText.filter((written) => written !== null && written.length > 0).length).toBeGreaterThanOrEqual(50);
});

test('an attribute of a drawing counts less than a rule, and leads on to the ink', async () => {
  await tab.goto(`${harbour.origin}/linked`);
  await tab.page.waitForLoadState('load');
  const byText = await told();
  const of = (selector: string, property: string): unknown => {
    const at = ASKS.findIndex((ask) => ask.selector === selector && ask.property === property);
    return byText[at]?.map((hop) => `${hop.property}: ${hop.value} (${hop.rule})`);
  };
  expect(of('svg:not(.x)', 'fill')).toEqual(['fill: rgb(17, 51, 85) (presentation attribute)']);
  expect(of('svg:not(.x)', 'stroke')).toEqual([
    'stroke: currentcolor (presentation attribute)',
    'color: rgb(34, 68, 102) (presentation attribute)',
  ]);
  expect(of('svg.x', 'fill')).toEqual(['fill: #dee (.x)']);
});

test.each([
  ['another value', 'style.color = "#864"'],
  ['one that was not there', 'style.backgroundColor = "#864"'],
  ['none', 'style.color = ""'],
  ['of a custom property', 'style.setProperty("--pale", "#864")'],
])('what a script makes of a rule the text does not tell: %s', async (_, change) => {
  await tab.goto(`${harbour.origin}/linked`);
  await tab.page.waitForLoadState('load');
  const files = new Map<string, ReadFile>();
  const before = await told(files);
  const rules = '[...document.styleSheets[0].cssRules]';
  await tab.page.evaluate(`${rules}.find((rule) => rule.selectorText === ".m").${change}`);
  await tab.page.evaluate(`${rules}.find((rule) => rule.selectorText === ":root").${change}`);
  const after = await told(files);
  expect(after).not.toEqual(before);
});

test('rules that scripts put into an empty sheet are told by their text, and stand in no file', async () => {
  await tab.goto(`${harbour.origin}/scripted`);
  await tab.page.waitForLoadState('load');
  const byText = await told();
  const hopsOf = (selector: string, property: string): unknown =>
    bare(byText[ASKS.findIndex((ask) => ask.selector === selector && ask.property === property)] ?? []);
  expect(hopsOf('.put', 'color')).toEqual([{ property: 'color', value: 'rgb(34, 68, 102)', rule: '.put', important: false }]);
  expect(hopsOf('.made', 'background-color')).toEqual([
    { property: 'background', value: 'rgb(51, 85, 119)', rule: '.made', important: false },
  ]);
});

test('of two loads of a page whose scripts put in as many rules, but others, each has its own', async () => {
  const put = async (ink: string): Promise<void> => {
    await tab.page.setContent('<section class=put>j</section>');
    await tab.page.evaluate((color) => {
      const style = document.createElement('style');
      document.head.append(style);
      style.sheet?.insertRule(`.put { color: ${color} }`);
    }, ink);
  };
  const keyOf = async (): Promise<string> => (await tab.call('rulesBehind', { places: [['.put', 'color']] })).key;
  await put('#246');
  const one = await keyOf();
  await put('#357');
  expect(await keyOf()).not.toBe(one);
  await put('#246');
  expect(await keyOf()).toBe(one);
});

// The browser lists no rules of parts of controls when it is asked.
test.each(['::placeholder', '::-webkit-input-placeholder'])('the ink of a placeholder: %s', async (part) => {
  const styles = `<style>input { color: #111 } input.x${part} { color: rgb(102, 85, 68) }</style>`;
  await tab.page.setContent(head(styles));
  const at = ASKS.findIndex(({ selector, property }) => selector === 'input::placeholder' && property === 'color');
  const seen = await tab.page.evaluate(
    () => getComputedStyle(document.querySelector('input') ?? document.body, '::placeholder').color,
  );
  const [written] = (await told()).slice(at);
  expect(written?.map(({ value, rule }) => [value, rule])).toEqual([[seen, `input.x${part}`]]);
  expect(await whereWritten(tab, ASKS.slice(at, at + 1))).toEqual([[]]);
});
