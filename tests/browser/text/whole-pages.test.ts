// What depends on the page as a whole: canvas and colour schemes, forced colours, top layer, scrolling, size, scale.
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Theme, Viewport } from '../../../src/plan/configuration.ts';
import type { ViewResult } from '../../../src/samples/captured-view.ts';
import type { Harbour } from '../session/harness.ts';
import { PLAIN, captured, renderAll, serve, texts } from '../session/harness.ts';
import type { Expected } from './case.ts';
import { codes } from './case.ts';
import { differences } from './sheet.ts';

interface WholePage {
  readonly name: string;
  readonly source: string;
  readonly html: string;
  readonly theme?: 'dark-preferred' | 'forced' | 'forced-dark';
  readonly viewport?: 'desk' | 'dense' | 'odd';
  readonly expect: readonly Expected[];
  readonly size?: readonly [width: number, height: number];
}

const FONT = "font:20px/24px 'DejaVu Sans','Liberation Sans',sans-serif";
const page = (body: string, head = ''): string =>
  `<!doctype html><html><head><title>Whole</title>${head}</head><body style="${FONT}">${body}</body></html>`;
const SCHEMES = 'CSS Color Adjust 1 §2; Chromium paints a dark canvas #121212 (reference "contrast and colour" §2)';
const CANVAS = 'CSS Backgrounds 3 §2.11: the background of the root, or else the body, paints the canvas';
const FORCED = 'CSS Color Adjust 1 §3: forced colours; values read from Chromium’s own palette';

const PAGES: readonly WholePage[] = [
  {
    name: 'the canvas of a dark page is dark',
    source: SCHEMES,
    html: page('<p>Level</p>', '<style>:root{color-scheme:dark}</style>'),
    expect: [{ color: '#ffffff', background: '#121212' }],
  },
  {
    name: 'a page for both schemes is light where light is preferred',
    source: SCHEMES,
    html: page('<p>Level</p>', '<style>:root{color-scheme:light dark}</style>'),
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'a page for both schemes is dark where dark is preferred',
    source: SCHEMES,
    theme: 'dark-preferred',
    html: page('<p>Level</p>', '<style>:root{color-scheme:light dark}</style>'),
    expect: [{ color: '#ffffff', background: '#121212' }],
  },
  {
    name: 'a page without a scheme stays light under a dark preference',
    source: SCHEMES,
    theme: 'dark-preferred',
    html: page('<p>Level</p>'),
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'a page that is light only stays light under a dark preference',
    source: SCHEMES,
    theme: 'dark-preferred',
    html: page('<p>Level</p>', '<style>:root{color-scheme:only light}</style>'),
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'the scheme may come from a meta element',
    source: 'HTML §4.2.5.5: color-scheme',
    html: page('<p>Level</p>', '<meta name="color-scheme" content="dark">'),
    expect: [{ color: '#ffffff', background: '#121212' }],
  },
  {
    name: 'a translucent root lies on the light canvas',
    source: `${CANVAS}; black .5 on white 127.5`,
    html: page('<p style="color:#fff">Level</p>', '<style>html{background:rgb(0 0 0/.5)}</style>'),
    expect: [{ color: '#ffffff', background: codes(127.5, 127.5, 127.5) }],
  },
  {
    name: 'a translucent root lies on the dark canvas',
    source: `${CANVAS}; black .5 on #121212 = 9 (Chromium’s dark canvas, measured)`,
    html: page('<p>Level</p>', '<style>html{background:rgb(0 0 0/.5);color-scheme:dark}</style>'),
    expect: [{ color: '#ffffff', background: codes(9, 9, 9) }],
  },
  {
    name: 'the body’s background is the canvas’s',
    source: CANVAS,
    html: page(
      '<div style="position:absolute;top:400px;color:#fff">Level</div>',
      '<style>body{background:#0b3d4f;height:50px;margin:0}</style>',
    ),
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'with a background of the root the body’s stays in its box',
    source: CANVAS,
    html: page(
      '<div>Tide</div><div style="position:absolute;top:400px">Level</div>',
      '<style>html{background:#fc0}body{background:#0b3d4f;color:#fff;height:50px;margin:0}</style>',
    ),
    expect: [
      { text: 'Tide', background: '#0b3d4f' },
      { text: 'Level', background: '#ffcc00' },
    ],
  },
  {
    name: 'a gradient of the root is the canvas’s',
    source: CANVAS,
    html: page('<p style="color:#fff">Level</p>', '<style>html{background:linear-gradient(#0b3d4f,#0b3d4f)}</style>'),
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'an inverted root: a set background turns over',
    source: 'Filter Effects 1 §8: a filter on the root inverts a set background',
    html: page('<p>Level</p>', '<style>html{filter:invert(1);background:#fc0}</style>'),
    expect: [{ color: '#ffffff', background: '#0033ff' }],
  },
  {
    name: 'a faded root',
    source: 'CSS Color 4 §3.3: ink .5·0 + .5·255; the canvas stays',
    html: page('<p>Level</p>', '<style>body{opacity:.5}</style>'),
    expect: [{ color: codes(127.5, 127.5, 127.5), background: '#ffffff' }],
  },
  {
    name: 'an element with a dark scheme has light text and the surroundings’ background',
    source: `${SCHEMES}: no background of its own`,
    html: page('<p style="color-scheme:dark;color:CanvasText">Level</p>'),
    expect: [{ color: '#ffffff', background: '#ffffff', verdict: 'fail', min: [1, 1] }],
  },
  {
    name: 'light-dark follows the element’s scheme',
    source: 'CSS Color 5 §5',
    html: page('<p style="color-scheme:dark;color:light-dark(red,#e8a33d);background:light-dark(red,#0b3d4f)">Level</p>'),
    expect: [{ color: '#e8a33d', background: '#0b3d4f' }],
  },
  {
    name: 'a frame of another scheme has a canvas of its own',
    source: 'CSS Color Adjust 1 §2.4: opaque canvas where schemes differ',
    html: page(
      `<iframe style="border:0;height:80px" srcdoc="<!doctype html><style>:root{color-scheme:dark}</style>Level"></iframe>`,
    ),
    expect: [{ color: '#ffffff', background: '#121212' }],
  },
  {
    name: 'quirks mode',
    source: 'Quirks Mode Standard: a page without a doctype',
    html: `<title>Quirks</title><body bgcolor="#0b3d4f" text="#ffffff"><table><tr><td>Level</td></tr></table><div style="height:900px"></div><font color="#ffcc00">Tide</font>`,
    expect: [
      { text: 'Level', color: '#ffffff', background: '#0b3d4f' },
      { text: 'Tide', color: '#ffcc00', background: '#0b3d4f' },
    ],
  },
  {
    name: 'text far to the right of a page that scrolls sideways',
    source: 'CSS Overflow 3 §3: scrollable overflow area',
    html: page('<p style="position:absolute;left:1500px;top:20px;background:#0b3d4f;color:#fff;margin:0;width:300px">Level</p>'),
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
    size: [1800, 600],
  },
  {
    name: 'text far down a tall page, on a picture',
    source: 'CSS Images 3',
    html: page(
      '<p style="position:absolute;top:7000px;background:linear-gradient(#0b3d4f,#0b3d4f);color:#fff;margin:0;width:300px;height:40px">Level</p>',
    ),
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
    size: [800, 7040],
  },
  {
    name: 'a fixed header is judged once, where the page is at its top',
    source: 'CSS Position 3 §2.1: fixed to the viewport; once: common practice',
    html: page(
      '<header style="position:fixed;top:0;left:0;right:0;background:#0b3d4f;color:#fff">Harbour</header><div style="height:3000px;padding-top:60px">Level</div>',
    ),
    expect: [
      { text: 'Harbour', color: '#ffffff', background: '#0b3d4f' },
      { text: 'Level', color: '#000000', background: '#ffffff' },
    ],
    // 3000 + 60 padding + 2·8 margin.
    size: [800, 3076],
  },
  {
    name: 'a bar fixed to the lower edge stays in the first screen',
    source: 'CSS Position 3 §2.1: fixed to the viewport',
    html: page(
      '<footer style="position:fixed;bottom:0;left:0;right:0;background:#0b3d4f;color:#fff">Harbour</footer><div style="height:1500px">Level</div>',
    ),
    expect: [{ text: 'Harbour', color: '#ffffff', background: '#0b3d4f' }, { text: 'Level' }],
  },
  {
    name: 'heights in parts of the screen are those of the screen',
    source: 'CSS Values 4 §6.1.2: 50 vh of 600 px',
    html: page(
      '<div style="height:50vh;background:#0b3d4f"></div><div style="background:#fc0">Level</div><div style="height:2000px"></div>',
      '<style>body{margin:0}</style>',
    ),
    expect: [{ text: 'Level', background: '#ffcc00' }],
    size: [800, 2324],
  },
  {
    name: 'a page does not notice that all of it is painted',
    source: 'CSSOM View §13.1: resize is fired where the viewport changes',
    html: page(
      `<p id="level" style="position:absolute;top:3000px;background:linear-gradient(#0b3d4f,#0b3d4f);color:#fff">0 changes</p><script>
        let count = 0;
        for (const window of [globalThis, visualViewport]) window.addEventListener('resize', () => { level.textContent = ++count + ' changes' })
      </script>`,
    ),
    expect: [{ text: '0 changes', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a page that was scrolled by its script is captured from its top',
    source: 'CSSOM View §5',
    html: page(
      '<p style="background:#0b3d4f;color:#fff">Level</p><div style="height:4000px"></div><script>scrollTo(0,1500)</script>',
    ),
    expect: [{ text: 'Level', color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'an open dialog lies above the page, which lies under its backdrop',
    source: 'HTML §15.5.10: ::backdrop { background: rgb(0 0 0/.1) }; white under it 229.5',
    html: page('<p>Level</p><dialog id="d" style="border:0">Berth</dialog><script>d.showModal()</script>'),
    expect: [
      { text: 'Level', color: '#000000', background: codes(229.5, 229.5, 229.5), verdict: 'exempt' },
      { text: 'Berth', color: '#000000', background: '#ffffff', verdict: 'pass' },
    ],
  },
  {
    name: 'an own backdrop counts',
    source: 'CSS Position 4 §3.2: black .5 over #fc0 = 127.5 102 0; what lies beneath it is not judged (ours)',
    html: page(
      '<p style="background:#fc0;margin:0">Level</p><div id="d" popover style="border:0">Berth</div><script>d.showPopover()</script>',
      '<style>#d::backdrop{background:rgb(0 0 0/.5)}</style>',
    ),
    expect: [
      { text: 'Level', color: '#000000', background: codes(127.5, 102, 0), verdict: 'exempt', exempt: 'behind' },
      { text: 'Berth', color: '#000000', background: '#ffffff' },
    ],
  },
  {
    name: 'forced colours: text and background are the system’s',
    source: FORCED,
    theme: 'forced',
    html: page('<p style="color:#e8a33d;background:#0b3d4f">Level</p>'),
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'forced colours: what opts out keeps its own',
    source: `${FORCED}: forced-color-adjust none`,
    theme: 'forced',
    html: page('<p style="color:#e8a33d;background:#0b3d4f;forced-color-adjust:none">Level</p>'),
    expect: [{ color: '#e8a33d', background: '#0b3d4f' }],
  },
  {
    name: 'forced colours: a fill colour of the author is not what is seen',
    source: `${FORCED}: pixels count (measured: computed colours stay as authored)`,
    theme: 'forced',
    html: page('<p style="-webkit-text-fill-color:#e8a33d">Level</p>'),
    expect: [{ verdict: 'pass', min: [21, 21] }],
  },
  {
    name: 'forced colours: words in place of a picture that did not come',
    source: FORCED,
    theme: 'forced-dark',
    html: page('<img src="data:image/png;base64,AA==" alt="Level" width="200" height="120" style="color:#444">'),
    expect: [{ color: '#ffffff', background: '#000000', verdict: 'pass' }],
  },
  {
    name: 'forced colours with a dark preference',
    source: FORCED,
    theme: 'forced-dark',
    html: page('<p style="color:#e8a33d;background:#fff">Level</p>'),
    expect: [{ verdict: 'pass', min: [15, 21] }],
  },
  {
    name: 'forced colours: a placeholder is measured on the field, not on itself',
    source: `${FORCED}: CSS Color 4 §6.2, placeholders are GrayText or FieldText on Field`,
    theme: 'forced',
    html: page(
      '<style>input::placeholder,textarea::placeholder{color:#999}</style><input placeholder="Berth" style="font-size:20px"><textarea placeholder="Quay" style="font-size:20px"></textarea>',
    ),
    expect: [
      { text: 'Berth', background: '#ffffff', verdict: 'pass', min: [4.5, 21] },
      { text: 'Quay', background: '#ffffff', verdict: 'pass', min: [4.5, 21] },
    ],
  },
  {
    name: 'forced colours, dark: a placeholder',
    source: FORCED,
    theme: 'forced-dark',
    html: page('<input placeholder="Berth" style="font-size:20px"><input value="Quay" style="font-size:20px;color:#999">'),
    expect: [
      { text: 'Berth', verdict: 'pass', min: [4.5, 21] },
      { text: 'Quay', verdict: 'pass', min: [4.5, 21] },
    ],
  },
  {
    name: 'two device pixels a CSS pixel',
    source: 'the same colours, sharper',
    viewport: 'dense',
    html: page(
      '<p style="background:linear-gradient(#0b3d4f,#0b3d4f);color:#e8a33d">Level</p><p style="background:#123456;color:#fff">Tide</p>',
    ),
    expect: [
      { text: 'Level', color: '#e8a33d', background: '#0b3d4f' },
      { text: 'Tide', color: '#ffffff', background: '#123456' },
    ],
  },
  {
    name: 'one and a half device pixels a CSS pixel',
    source: 'the same colours',
    viewport: 'odd',
    html: page(
      '<p style="background:linear-gradient(#0b3d4f,#0b3d4f);color:#e8a33d">Level</p><p style="background:#123456;color:#fff">Tide</p>',
    ),
    expect: [
      { text: 'Level', color: '#e8a33d', background: '#0b3d4f' },
      { text: 'Tide', color: '#ffffff', background: '#123456' },
    ],
  },
  {
    name: 'text that is skipped until it is seen is shown',
    source: 'CSS Containment 2 §4: content-visibility auto',
    html: page(
      '<div style="height:3000px"></div><div style="content-visibility:auto;contain-intrinsic-size:100px 100px"><p style="background:#0b3d4f;color:#fff">Level</p></div>',
    ),
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'a picture that loads only when it comes near is there',
    source: 'HTML §2.5.7: lazy loading',
    html: page(
      `<div style="height:3000px"></div><img loading="lazy" alt="" style="position:absolute;width:300px;height:60px" src="data:image/svg+xml,${encodeURIComponent('<svg xmlns="http://www.w3.org/2000/svg"><rect width="300" height="150" fill="#0b3d4f"/></svg>')}"><p style="position:relative;color:#fff">Level</p>`,
    ),
    expect: [{ color: '#ffffff', background: '#0b3d4f' }],
  },
  {
    name: 'what appears when it is scrolled to is there',
    source: 'IntersectionObserver: scrolled through once',
    html: page(
      '<div style="height:3000px"></div><p id="p" style="opacity:0;transition:opacity 1s">Level</p><script>new IntersectionObserver(e=>{if(e[0].isIntersecting)p.style.opacity=1}).observe(p)</script>',
    ),
    expect: [{ color: '#000000', background: '#ffffff' }],
  },
  {
    name: 'movement is at its end',
    source: 'Web Animations 1 §4.4.16: finish',
    html: page('<style>@keyframes in{from{color:#fff}to{color:#0b3d4f}}p{animation:in 4s both}</style><p>Level</p>'),
    expect: [{ color: '#0b3d4f', background: '#ffffff' }],
  },
  {
    name: 'endless movement stands at its start',
    source: 'Web Animations 1: paused at 0',
    html: page(
      '<style>@keyframes pulse{from{color:#0b3d4f}to{color:#fff}}p{animation:pulse 1s infinite alternate}</style><p>Level</p>',
    ),
    expect: [{ color: '#0b3d4f', background: '#ffffff' }],
  },
];

const THEMES: readonly Theme[] = [
  PLAIN,
  { ...PLAIN, name: 'dark-preferred', apply: { media: { colorScheme: 'dark' } } },
  { ...PLAIN, name: 'forced', apply: { media: { forcedColors: 'active' } } },
  { ...PLAIN, name: 'forced-dark', apply: { media: { forcedColors: 'active', colorScheme: 'dark' } } },
];
const VIEWPORTS: readonly Viewport[] = [
  { name: 'desk', widthCssPx: 800, heightCssPx: 600, scale: 1 },
  { name: 'dense', widthCssPx: 800, heightCssPx: 600, scale: 2 },
  { name: 'odd', widthCssPx: 800, heightCssPx: 600, scale: 1.5 },
];

function groupBy<T>(list: readonly T[], keyOf: (entry: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const entry of list) groups.set(keyOf(entry), [...(groups.get(keyOf(entry)) ?? []), entry]);
  return groups;
}

let harbour: Harbour;
const results = new Map<string, ViewResult>();

beforeAll(async () => {
  harbour = await serve(Object.fromEntries(PAGES.map(({ html }, n) => [`/${String(n)}`, html])));
  // Only the views that the table names: page × theme × viewport.
  const groups = groupBy(PAGES, ({ theme = 'plain', viewport = 'desk' }) => `${theme} ${viewport}`);
  for (const [key, pages] of groups) {
    const [theme = '', viewport = ''] = key.split(' ');
    const found = await renderAll({
      origin: harbour.origin,
      paths: pages.map((one) => `/${String(PAGES.indexOf(one))}`),
      themes: THEMES.filter(({ name }) => name === theme),
      configuration: { viewports: VIEWPORTS.filter(({ name }) => name === viewport) },
    });
    for (const result of found) results.set(result.view.page, result);
  }
});
afterAll(() => harbour.close());

for (const [n, one] of PAGES.entries()) {
  test(`${one.name} (${String(n)})`, () => {
    const result = results.get(String(n));
    expect(differences({ ...one, html: '' }, texts(result)), one.source).toEqual([]);
    if (one.size !== undefined) expect([captured(result).page.widthCssPx, captured(result).page.heightCssPx]).toEqual(one.size);
    expect(captured(result).notes).toEqual([]);
  });
}
