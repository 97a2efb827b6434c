import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { findBrowser } from '../../../runner/browser/find-browser.ts';
import { launchBrowser } from '../../../runner/browser/launch-browser.ts';
import { LIMITS } from '../../../runner/tab/limits.ts';
import { Tab } from '../../../runner/tab/tab.ts';
import type { Written, WrittenAsk } from '../../../runner/written/where-written.ts';
import { whereWritten } from '../../../runner/written/where-written.ts';
import type { Theme } from '../../../src/plan/configuration.ts';
import type { Harbour } from '../session/harness.ts';
import { renderAll, serve } from '../session/harness.ts';

// Expected places are derived: they are counted in these very texts.
const SHEET = `:root {
  --silt-900: #273237;
  --mark: var(--silt-900);
}
@layer base {
  #layered { color: #111111; }
  #forced { color: #111111 !important; }
}
p { color: #222222; }
#layered { color: var(--mark); }
#forced { color: #333333 !important; }
.dark {
  --mark: var(--night, #dde0e1);
}
#x.loud { color: teal }
#x { color: navy }
aside { color: var(--mark); }
#rim { border: 1px solid; color: olive; }
#dot::before { content: 'o'; color: var(--mark); }
@media (min-width: 1px) { #wide { background: var(--mark) } }
aside:hover { background: #ffeeaa }
#bare { --hue: 200; --strength: 30%; color: hsl(var(--hue) var(--strength) 40%); }
#leg { --leg-link: inherit; color: teal; }
#nook { color: var(--leg-link); }`;

// A generated sheet of one line with its map: AAAA maps its start to line 1 of the source, the second segment (column 16) to line 7.
const MAP = { version: 3, sources: ['src/quay.scss'], names: [], mappings: 'AAAA,gBAMA' };
const MAPPED = `#one{color:red}\n #two{color:#c43536}\n/*# sourceMappingURL=quay.css.map */`.replace('\n ', ' ');

const PAGE = `<!doctype html><meta charset=utf-8><title>Harbour</title>
<link rel=stylesheet href="/harbour.css">
<link rel=stylesheet href="/quay.css">
<style>
  #inpage { color: #444444 }
</style>
<p id=layered>a</p><p id=forced>b</p><p id=x class=loud>c</p>
<aside><span id=inner>d</span></aside>
<section class=dark><p id=scoped style="color: var(--mark)">e</p></section>
<input id=rim><b id=dot>f</b><div id=wide>g</div><p id=inpage>h</p><p id=plain>i</p><p id=two>j</p><em id=bare>k</em><p id=leg><a id=nook href="/nook">n</a></p>
<gauge-x id=dial><template shadowrootmode=open><style>b{color:var(--mark)}</style><b id=in>l</b></template></gauge-x><div style="color:olive"><a id=way href="/log">m</a></div>`;

let harbour: Harbour;
let browser: Browser;
let tab: Tab;

beforeAll(async () => {
  const css =
    (text: string): Parameters<typeof serve>[0][string] =>
    (_request, response) => {
      response.writeHead(200, { 'content-type': 'text/css' }).end(text);
    };
  harbour = await serve({
    '/': PAGE,
    '/harbour.css': css(SHEET),
    '/quay.css': css(MAPPED),
    '/quay.css.map': css(JSON.stringify(MAP)),
  });
  browser = await launchBrowser(await findBrowser(process.env));
  tab = await Tab.open(browser, { limits: LIMITS, signal: new AbortController().signal });
  await tab.goto(`${harbour.origin}/`);
  await tab.page.waitForLoadState('load');
});

afterAll(async () => {
  await tab.close();
  await browser.close();
  await harbour.close();
});

function shown(written: Written): readonly string[] {
  return written.map(({ property, value, rule, file = '', line = 0, column = 0, above }) => {
    const place = file === '' ? '' : ` at ${file.replace(harbour.origin, '')}:${String(line)}:${String(column)}`;
    return `${rule} { ${property}: ${value} }${place}${above === 0 ? '' : ` +${String(above)}`}`;
  });
}

test('the declaration that wins, and each custom property on the way, with file, line and column', async () => {
  const cases: readonly (readonly [WrittenAsk, readonly string[]])[] = [
    // Unlayered beats layered, and an id beats a tag (CSS Cascade 5 §6).
    [
      { selector: '#layered', property: 'color' },
      [
        '#layered { color: var(--mark) } at /harbour.css:10:12',
        ':root { --mark: var(--silt-900) } at /harbour.css:3:3 +2',
        ':root { --silt-900: #273237 } at /harbour.css:2:3 +2',
      ],
    ],
    // Important turns the order of layers over (§6.4.4).
    [{ selector: '#forced', property: 'color' }, ['#forced { color: #111111 } at /harbour.css:7:13']],
    // Specificity before order.
    [{ selector: '#x', property: 'color' }, ['#x.loud { color: teal } at /harbour.css:15:11']],
    // Inherited from the parent.
    [
      { selector: '#inner', property: 'color' },
      [
        'aside { color: var(--mark) } at /harbour.css:17:9 +1',
        ':root { --mark: var(--silt-900) } at /harbour.css:3:3 +3',
        ':root { --silt-900: #273237 } at /harbour.css:2:3 +3',
      ],
    ],
    // Inline, with a scope that declares the property again and falls back.
    [
      { selector: '#scoped', property: 'color' },
      ['style attribute { color: var(--mark) }', '.dark { --mark: var(--night, #dde0e1) } at /harbour.css:13:3 +1'],
    ],
    // A border without a colour takes the ink.
    [
      { selector: '#rim', property: 'border-top-color' },
      ['#rim { border: 1px solid } at /harbour.css:18:8', '#rim { color: olive } at /harbour.css:18:27'],
    ],
    [
      { selector: '#dot::before', property: 'color' },
      [
        '#dot::before { color: var(--mark) } at /harbour.css:19:30',
        ':root { --mark: var(--silt-900) } at /harbour.css:3:3 +3',
        ':root { --silt-900: #273237 } at /harbour.css:2:3 +3',
      ],
    ],
    [
      { selector: '#wide', property: 'background-color' },
      [
        '#wide { background: var(--mark) } at /harbour.css:20:35',
        ':root { --mark: var(--silt-900) } at /harbour.css:3:3 +2',
        ':root { --silt-900: #273237 } at /harbour.css:2:3 +2',
      ],
    ],
    [{ selector: '#inpage', property: 'color' }, ['#inpage { color: #444444 } at /:5:13']],
    // Through the source map.
    [{ selector: '#two', property: 'color' }, ['#two { color: #c43536 } at src/quay.scss:7:1']],
    [
      { selector: '#dial >>> #in', property: 'color' },
      [
        'b { color: var(--mark) } at /:11:57',
        ':root { --mark: var(--silt-900) } at /harbour.css:3:3 +3',
        ':root { --silt-900: #273237 } at /harbour.css:2:3 +3',
      ],
    ],
    // Built from parts: where each stands.
    [
      { selector: '#bare', property: 'color' },
      [
        '#bare { color: hsl(var(--hue) var(--strength) 40%) } at /harbour.css:22:38',
        '#bare { --hue: 200 } at /harbour.css:22:9',
        '#bare { --strength: 30% } at /harbour.css:22:21',
      ],
    ],
    // What takes a property that holds nothing takes what is around (CSS Variables 1 §3.1).
    [{ selector: '#nook', property: 'color' }, ['#leg { color: teal } at /harbour.css:23:29 +1']],
    // The browser’s own sheet colours a link (HTML Standard §15.3.1), whatever the text around it takes.
    [{ selector: '#way', property: 'color' }, ['browser { color: -webkit-link }']],
    // Nobody wrote anything.
    [{ selector: '#bare', property: 'background-color' }, []],
    [{ selector: '#nowhere', property: 'color' }, []],
  ];
  const written = await whereWritten(
    tab,
    cases.map(([ask]) => ask),
  );
  expect(written.map(shown)).toEqual(cases.map(([, expected]) => expected));
});

test('under a state that has passed, and left as it was', async () => {
  const asks = [{ selector: 'aside', property: 'background-color' }];
  const hovered = { selector: '#inner', classes: ['hover'] };
  const look = async (under?: typeof hovered): Promise<readonly string[]> =>
    (await whereWritten(tab, asks, { under })).flatMap((written) => shown(written));
  expect(await look()).toEqual([]);
  expect(await look(hovered)).toEqual(['aside:hover { background: #ffeeaa } at /harbour.css:21:15']);
  expect(await look()).toEqual([]);
  expect(await tab.page.locator('aside').evaluate((el) => getComputedStyle(el).backgroundColor)).toBe('rgba(0, 0, 0, 0)');
});

test('the filter that turns a picture over is known by its rule and by the property that holds it', async () => {
  const photo = '<svg xmlns="http://www.w3.org/2000/svg" width="80" height="60"><rect width="40" height="60" fill="#246"/></svg>';
  const sheet = `.quiet { filter: blur(1px) }
[data-look=dusk] { --turn: invert(1) }
[data-look=dusk] .photo { filter: var(--turn) }`;
  const quay = await serve({
    '/': `<!doctype html><meta charset=utf-8><title>Quay</title><style>${sheet}</style>
<figure class=quiet><img class=photo alt="The quay" width=80 height=60 src="data:image/svg+xml,${encodeURIComponent(photo)}"></figure>`,
  });
  try {
    const themes = ['noon', 'dusk'].map((name): Theme => {
      const apply = { attributes: [{ on: 'html', name: 'data-look', value: name }] };
      return { name, tone: name === 'noon' ? 'light' : 'dark', apply, tokens: {} };
    });
    const results = await renderAll({ origin: quay.origin, paths: ['/'], themes, request: { browser } });
    const filters = results.map((result) =>
      result.status === 'failed'
        ? result.error
        : result.samples.flatMap((sample) => (sample.kind === 'picture' ? sample.filters : [])),
    );
    const blur = { selector: 'html > body > figure', filter: 'blur(1px)', origin: 'author' };
    const written = [
      { property: 'filter', value: 'var(--turn)', rule: '[data-look="dusk"] .photo', file: '/', line: 3, column: 27 },
      { property: '--turn', value: 'invert(1)', rule: '[data-look="dusk"]', file: '/', line: 2, column: 20 },
    ];
    const turned = { selector: 'html > body > figure > img', filter: 'invert(1)', origin: 'author', written };
    expect(filters).toEqual([[blur], [turned, blur]]);
  } finally {
    await quay.close();
  }
});

test('text in a slot is traced and looked up where its style stands: in the shadow tree', async () => {
  const button = (id: string, css: string): string =>
    `<gauge-key id=${id}><template shadowrootmode=open><style>\n.pad { ${css} }</style><span class=pad><slot></slot></span></template>Level</gauge-key>`;
  const head = '<!doctype html><meta charset=utf-8><title>Quay</title><style>:root { --pale: #999999 }</style><body>';
  const quay = await serve({
    '/': `${head}
${button('a', 'color: var(--pale)')}
${button('b', 'color: #9a9a9a')}`,
  });
  try {
    const results = await renderAll({ origin: quay.origin, paths: ['/'], request: { browser } });
    const inks = results.flatMap((result) =>
      result.status === 'failed'
        ? []
        : result.samples.flatMap((each) => (each.kind === 'text' ? [[each.selector, each.ink] as const] : [])),
    );
    const own = { rule: '.pad', property: 'color', file: '/', column: 8 };
    const pale = { property: '--pale', value: '#999999', rule: ':root', file: '/', line: 1, column: head.indexOf('--pale') + 1 };
    expect(Object.fromEntries(inks)).toMatchObject({
      '#a': {
        origin: { kind: 'token', property: '--pale' },
        on: '#a >>> span > slot',
        written: [{ ...own, value: 'var(--pale)', line: 3 }, pale],
      },
      '#b': { origin: { kind: 'literal' }, on: '#b >>> span > slot', written: [{ ...own, value: '#9a9a9a', line: 5 }] },
    });
  } finally {
    await quay.close();
  }
});
