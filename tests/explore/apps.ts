// Small apps of the tide-gauge network, each switching its themes another way, written to a folder of their own.
import type { ThemeApply } from '../../src/plan/configuration.ts';
import type { Tone } from '../../src/samples/view.ts';

export interface SmallApp {
  readonly says: string;
  readonly files: Readonly<Record<string, string>>;
  /** Theme name → how it reads and how it must be put on; the first is the app as it loads. */
  readonly themes: Readonly<Record<string, { readonly tone: Tone; readonly apply: ThemeApply }>>;
}

const BODY = `<header class="bar"><h1>Low Pier</h1><nav><a href="/">Gauges</a> <a href="/log.html">Alarm log</a></nav></header>
<main><section class="panel"><h2>Water level</h2><p>2.4 m above chart datum, falling.</p><table><tr><th>High</th><td>05:12</td></tr><tr><th>Low</th><td>11:40</td></tr></table></section>
<section class="panel"><h2>Wind</h2><p>South-west 4, gusts of 6.</p></section></main>`;

function html(head: string, body = BODY): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Low Pier</title>${head}</head><body>${body}</body></html>`;
}

/** The same for all pages. */
function pages(head: string, extra = ''): Readonly<Record<string, string>> {
  return {
    'index.html': html(head, BODY + extra),
    'log.html': html(
      head,
      `<header class="bar"><h1>Alarm log</h1></header><main><p class="panel">Nothing since dawn.</p></main>${extra}`,
    ),
  };
}

const LAYOUT = 'body{margin:0;min-height:100vh;font:16px sans-serif}.bar,.panel{padding:16px}';
const LIGHT = '--sheet:#f4efe2;--word:#1c2b33;--band:#dfe7e4';
const DARK = '--sheet:#10181d;--word:#e6e0d0;--band:#1d2a31';
const STARK = '--sheet:#000000;--word:#ffff66;--band:#333300';
const USES = 'body{background:var(--sheet);color:var(--word)}.bar,.panel{background:var(--band)}';

/** Colours in style sheets that only a script chooses between. */
const SHEETS = {
  'noon.css': `:root{${LIGHT}}`,
  'dusk.css': `:root{${DARK}}`,
} as const;
const SHEET_SWITCH = (choose: string): string =>
  `<style>${LAYOUT}${USES}</style><link id="colours" rel="stylesheet" href="/noon.css"><script>${choose}\nif (look === 'dusk') document.getElementById('colours').href = '/dusk.css';</script>`;

export const SMALL_APPS: readonly SmallApp[] = [
  {
    says: 'an attribute on the root, kept in storage by a button',
    files: pages(
      `<style>${LAYOUT}:root{${LIGHT}}[data-watch="night"]{${DARK}}[data-watch="signal"] .lamp{color:#123}[data-watch="signal"] .horn{color:#321}${USES}</style><script>const kept = localStorage.getItem('watch'); if (kept) document.documentElement.dataset.watch = kept;</script>`,
      `<button onclick="const w = document.documentElement.dataset.watch === 'night' ? 'day' : 'night'; document.documentElement.dataset.watch = w; localStorage.setItem('watch', w)">Night watch</button>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      night: { tone: 'dark', apply: { attributes: [{ on: 'html', name: 'data-watch', value: 'night' }] } },
    },
  },
  {
    says: 'an attribute that a script sets from the start, chosen in a menu that is folded',
    files: pages(
      `<style>${LAYOUT}:root,[data-lamp="day"]{${LIGHT}}[data-lamp="dusk"]{${DARK}}${USES}</style>`,
      `<details><summary>Lamps</summary><ul><li><a href="#day" data-pick="day">Day</a></li><li><a href="#dusk" data-pick="dusk">Dusk</a></li></ul></details><p>Quay</p>
      <script>const put = (lamp) => { localStorage.setItem('lamp', lamp); document.documentElement.dataset.lamp = lamp; }; put(localStorage.getItem('lamp') ?? 'day');
      for (const link of document.querySelectorAll('[data-pick]')) link.onclick = (event) => { event.preventDefault(); put(link.dataset.pick); document.querySelector('details').open = false; };</script>`,
    ),
    themes: {
      day: { tone: 'light', apply: { attributes: [{ on: 'html', name: 'data-lamp', value: 'day' }] } },
      dusk: { tone: 'dark', apply: { attributes: [{ on: 'html', name: 'data-lamp', value: 'dusk' }] } },
    },
  },
  {
    says: 'two attributes that a button sets, neither of which does anything alone',
    files: pages(
      `<style>${LAYOUT}:root{${LIGHT}}[data-lamp=low][data-glass=red]{${DARK}}${USES}</style>`,
      `<button onclick="Object.assign(document.documentElement.dataset, { lamp: 'low', glass: 'red' })">Dark theme</button>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      low: {
        tone: 'dark',
        apply: {
          attributes: [
            { on: 'html', name: 'data-lamp', value: 'low' },
            { on: 'html', name: 'data-glass', value: 'red' },
          ],
        },
      },
    },
  },
  {
    says: 'classes on the root, one of them there from the start',
    files: {
      'index.html': html(`<style>${LAYOUT}.forenoon{${LIGHT}}.lamps{${DARK}}.glare{${STARK}}${USES}</style>`).replace(
        '<html',
        '<html class="forenoon"',
      ),
    },
    themes: {
      light: { tone: 'light', apply: {} },
      lamps: { tone: 'dark', apply: { class: { on: 'html', add: ['lamps'], remove: [] } } },
      glare: { tone: 'dark', apply: { class: { on: 'html', add: ['glare'], remove: [] } } },
    },
  },
  {
    says: 'rules below a class of the body, without custom properties',
    files: pages(
      `<style>${LAYOUT}body{background:#f4efe2;color:#1c2b33}.panel{background:#dfe7e4}body.dim{background:#10181d;color:#e6e0d0}.dim .panel{background:#1d2a31}.dim .bar{background:#223038}</style>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      dim: { tone: 'dark', apply: { class: { on: 'body', add: ['dim'], remove: [] } } },
    },
  },
  {
    says: 'media queries for the scheme and for contrast',
    files: pages(
      `<meta name="viewport" content="width=device-width"><style>${LAYOUT}:root{${LIGHT}}@media (prefers-color-scheme: dark){:root{${DARK}}}@media (prefers-contrast: more){:root{${STARK}}}@media (max-width: 620px){main{font-size:14px}}${USES}</style>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      dark: { tone: 'dark', apply: { media: { colorScheme: 'dark' } } },
      contrast: { tone: 'dark', apply: { media: { contrast: 'more' } } },
    },
  },
  {
    says: 'light-dark() that follows the system',
    files: pages(
      `<style>${LAYOUT}:root{color-scheme:light dark;--sheet:light-dark(#f4efe2,#10181d);--word:light-dark(#1c2b33,#e6e0d0);--band:light-dark(#dfe7e4,#1d2a31)}${USES}</style>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      dark: { tone: 'dark', apply: { media: { colorScheme: 'dark' } } },
    },
  },
  {
    says: 'an entry of the storage that a script reads',
    files: { ...pages(SHEET_SWITCH(`const look = localStorage.getItem('pier-look') === 'dusk' ? 'dusk' : 'noon';`)), ...SHEETS },
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { storage: { 'pier-look': 'dusk' } } },
    },
  },
  {
    says: 'a cookie that a script reads',
    files: {
      ...pages(SHEET_SWITCH(`const look = /(?:^|; )pier_theme=(\\w+)/.exec(document.cookie)?.[1] === 'dusk' ? 'dusk' : 'noon';`)),
      ...SHEETS,
    },
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { cookie: { pier_theme: 'dusk' } } },
    },
  },
  {
    says: 'a query that a script reads and links carry',
    files: {
      ...pages(
        SHEET_SWITCH(`const look = new URLSearchParams(location.search).get('coat') === 'dusk' ? 'dusk' : 'noon';`),
        '<p><a href="?coat=dusk">In the evening</a></p>',
      ),
      ...SHEETS,
    },
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { query: { coat: 'dusk' } } },
    },
  },
  {
    says: 'a class that a button puts on the body, where the root shows half of it, beside classes of parts and of spacing',
    files: pages(
      `<style>${LAYOUT}:root{--band:#dfe7e4}body{--sheet:#f4efe2;--word:#1c2b33}.dusk-mode{${DARK}}.quay-banner{--sheet:#0b2b4a;--word:#f4efe2;--band:#123a5f}.compact-mode{--sheet:#f4efe2;--word:#1c2b33;--band:#dfe7e4}.compact-mode *{margin:2px;padding:2px}${USES}</style>`,
      `<button onclick="document.body.classList.toggle('dusk-mode')">Dark mode</button>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { class: { on: 'body', add: ['dusk-mode'], remove: [] } } },
    },
  },
  {
    says: 'a tone beside a palette, both there from the start, and rules for any palette',
    files: pages(
      `<script>Object.assign(document.documentElement.dataset, { palette: 'reef', tone: 'day' })</script><style>${LAYOUT}[data-palette]{--sheet:#cfe8ef;--word:#334;--band:#a9d3de}[data-palette="reef"]{${LIGHT}}[data-palette="reef"][data-tone="dusk"]{${DARK}}${USES}</style>`,
    ),
    themes: {
      day: { tone: 'light', apply: { attributes: [{ on: 'html', name: 'data-tone', value: 'day' }] } },
      dusk: { tone: 'dark', apply: { attributes: [{ on: 'html', name: 'data-tone', value: 'dusk' }] } },
    },
  },
  {
    says: 'two classes that the button of a component changes',
    files: pages(
      `<script>document.documentElement.className = 'pier-day'</script><style>${LAYOUT}:root,.pier-day{${LIGHT}}.pier-dusk{${DARK}}${USES}</style>`,
      `<pier-button id="theme-switch">Dusk</pier-button><script>customElements.define('pier-button', class extends HTMLElement { connectedCallback() { this.attachShadow({ mode: 'open' }).innerHTML = '<button><slot></slot></button>'; this.onclick = () => { for (const name of ['pier-day', 'pier-dusk']) document.documentElement.classList.toggle(name); }; } })</script>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      'pier-dusk': { tone: 'dark', apply: { class: { on: 'html', add: ['pier-dusk'], remove: ['pier-day'] } } },
    },
  },
  {
    says: 'a style sheet for each theme, whose address is made of what is stored',
    files: {
      ...pages(
        `<style>${LAYOUT}</style><link id="coat-sheet" rel="stylesheet"><script>const coat=localStorage.getItem('pier-coat')??'noon';document.getElementById('coat-sheet').href='coat-'+coat+'.css';</script>`,
        `<button onclick="localStorage.setItem('pier-coat','dusk');document.getElementById('coat-sheet').href='coat-dusk.css'">Dark</button>`,
      ),
      'coat-noon.css': `:root{${LIGHT}}${USES}`,
      'coat-dusk.css': `:root{${DARK}}${USES}`,
    },
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { storage: { 'pier-coat': 'dusk' } } },
    },
  },
  {
    says: 'a list of themes that marks a box inside the page',
    files: pages(
      `<style>${LAYOUT}#pier{min-height:100vh;${LIGHT};background:var(--sheet);color:var(--word)}#pier[data-coat=dusk]{${DARK}}#pier[data-coat=stark]{${STARK}}.bar,.panel{background:var(--band)}</style>`,
    ),
    themes: {
      light: { tone: 'light', apply: {} },
      dusk: { tone: 'dark', apply: { attributes: [{ on: '#pier', name: 'data-coat', value: 'dusk' }] } },
      stark: { tone: 'dark', apply: { attributes: [{ on: '#pier', name: 'data-coat', value: 'stark' }] } },
    },
  },
  {
    says: 'no second theme at all',
    files: pages(
      `<style>${LAYOUT}:root{${LIGHT}}${USES}.hero{background:#123;color:#fff}.hero h1{color:#eee}.hero p{color:#ddd}</style>`,
      '<div class="hero"><p>Pilots wanted</p></div>',
    ),
    themes: { light: { tone: 'light', apply: {} } },
  },
];

/** The box of the app with a list of themes needs its id in the body. */
function boxed(app: SmallApp): SmallApp {
  if (!app.says.startsWith('a list of themes')) return app;
  const select =
    '<label>Theme <select onchange="document.getElementById(\'pier\').dataset.coat = this.value"><option>noon</option><option>dusk</option><option>stark</option></select></label>';
  const files = Object.fromEntries(
    Object.entries(app.files).map(([name, text]) => [
      name,
      text.replace('<body>', `<body><div id="pier">${select}`).replace('</body>', '</div></body>'),
    ]),
  );
  return { ...app, files };
}

export const APPS: readonly SmallApp[] = SMALL_APPS.map(boxed);
