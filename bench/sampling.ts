// What measuring every text run costs, beside a plain script that loads the page and takes a full-page PNG. Interleaved: after
// each view of ours the plain script does its turn on the same page. Aims: everything costs at most half a
// plain picture more than load + picture; from 1,500 to 10,000 elements it grows at most as the elements do.
import { createServer } from 'node:http';
import type { Page as BrowserPage } from 'playwright';
import { findBrowser } from '../runner/browser/find-browser.ts';
import { launchBrowser } from '../runner/browser/launch-browser.ts';
import { render } from '../runner/render.ts';
import type { Configuration, Theme } from '../src/plan/configuration.ts';
import { makePlan } from '../src/plan/make-plan.ts';

const SIZES = [300, 1500, 10_000] as const;
const ROUNDS = 7;
const THEMES: readonly Theme[] = ['noon', 'dusk', 'stark', 'regatta'].map((name) => ({
  name,
  tone: name === 'dusk' ? 'dark' : 'light',
  tokens: {},
  apply: { attributes: [{ on: 'html', name: 'data-theme', value: name }] },
}));
const VIEWPORT = { name: 'desk', widthCssPx: 1280, heightCssPx: 800, scale: 1 };

export async function run(): Promise<void> {
  const server = createServer((request, response) => {
    const elements = Number(/\/(\d+)\//u.exec(request.url ?? '')?.[1] ?? 0);
    response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(harbourPage(elements));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const origin = `http://127.0.0.1:${String(typeof address === 'object' ? (address?.port ?? 0) : 0)}`;
  const whole: number[] = [];
  try {
    for (const elements of SIZES) {
      const turns = await measure(origin, elements, THEMES.slice(0, 1));
      report(`${String(elements)} elements`, turns);
      whole.push(median(turns.map((turn) => turn.ours)));
    }
    for (const elements of SIZES.slice(0, 2))
      report(`${String(elements)} elements, four themes`, await measure(origin, elements, THEMES));
    const [, middle = NaN, large = NaN] = whole;
    console.log(
      `growth of everything from 1,500 to 10,000 elements: × ${(large / middle).toFixed(2)} (elements: × ${(10_000 / 1500).toFixed(2)})`,
    );
  } finally {
    server.closeAllConnections();
    server.close();
  }
}

/** ms of one turn on one page, all its themes. */
interface Turn {
  readonly ours: number;
  readonly load: number;
  /** Load and full-page PNG. */
  readonly picture: number;
}

async function measure(origin: string, elements: number, themes: readonly Theme[]): Promise<readonly Turn[]> {
  // One more than is kept: the first turn warms up.
  const pages = Array.from({ length: ROUNDS + 1 }, (_, n) => ({
    name: `p${String(n)}`,
    path: `/${String(elements)}/${String(n)}`,
    states: [],
  }));
  const configuration: Configuration = {
    file: '',
    folder: '',
    app: { kind: 'url', url: origin },
    pages: { kind: 'list', pages },
    themes,
    reference: 'noon',
    viewports: [VIEWPORT],
    states: [],
    stay: [],
    exempt: [],
    mask: [],
    checks: {},
    owners: [],
    gate: {},
  };
  const browser = await launchBrowser(await findBrowser(process.env));
  const turns: Turn[] = [];
  let ours = 0;
  try {
    const plain = await browser.newPage({ viewport: { width: VIEWPORT.widthCssPx, height: VIEWPORT.heightCssPx } });
    const request = {
      configuration,
      views: makePlan({ origin, pages, themes, viewports: [VIEWPORT] }),
      pages,
      dye: [],
      workers: 1,
      level: 'AA',
    } as const;
    await render({ ...request, signal: new AbortController().signal }, async (result) => {
      if (result.status === 'failed') throw new Error(result.error);
      ours += result.ms;
      if (result.view.theme !== themes.at(-1)?.name) return;
      turns.push({ ours, ...(await plainTurn(plain, result.view.url, themes)) });
      ours = 0;
    });
  } finally {
    await browser.close();
  }
  return turns.slice(1);
}

async function plainTurn(page: BrowserPage, url: string, themes: readonly Theme[]): Promise<Omit<Turn, 'ours'>> {
  let load = 0;
  let picture = 0;
  for (const theme of themes) {
    const from = performance.now();
    await page.goto(`${url}?${theme.name}`, { waitUntil: 'load' });
    const loaded = performance.now();
    await page.screenshot({ fullPage: true });
    load += loaded - from;
    picture += performance.now() - from;
  }
  return { load, picture };
}

function report(what: string, turns: readonly Turn[]): void {
  const show = (values: readonly number[]): string =>
    `${median(values).toFixed(0)} (${quantile(values, 0.25).toFixed(0)}–${quantile(values, 0.75).toFixed(0)})`;
  const more = turns.map((turn) => (turn.ours - turn.picture) / (turn.picture - turn.load));
  console.log(
    `${what}: load ${show(turns.map((t) => t.load))} ms, load + PNG ${show(turns.map((t) => t.picture))} ms, everything ${show(turns.map((t) => t.ours))} ms; ` +
      `everything / (load + PNG) ${median(turns.map((t) => t.ours / t.picture)).toFixed(2)}; more than load + PNG, in pictures: ${median(more).toFixed(2)} (${quantile(more, 0.25).toFixed(2)}–${quantile(more, 0.75).toFixed(2)})`,
  );
}

function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.round((sorted.length - 1) * share)] ?? NaN;
}

const median = (values: readonly number[]): number => quantile(values, 0.5);

/** Cards with headings, texts, badges, links and fields; one in twelve lies on a gradient. */
function harbourPage(elements: number): string {
  const card = (n: number): string =>
    `<article class="${n % 12 === 0 ? 'band' : ''}"><h3>Gauge ${String(n)}</h3><p>Level <b>${(n * 0.037).toFixed(2)} m</b> and <a href="#${String(n)}">rising</a></p><small>Last reading 4 minutes ago</small><span class="badge">steady</span></article>`;
  return `<!doctype html><title>Gauges</title><style>
    :root{--page:#eef3f4;--card:#fff;--ink:#12303c;--faint:#5b6f78;--edge:#c8d4d8;--mark:#1f586c}
    [data-theme=dusk]{--page:#101a20;--card:#18262e;--ink:#dcecf1;--faint:#8aa3ad;--edge:#2b3f49;--mark:#7fc4dc}
    [data-theme=stark]{--page:#fff;--card:#fff;--ink:#000;--faint:#222;--edge:#000;--mark:#003}
    [data-theme=regatta]{--page:#f6f1ea;--card:#fffdf9;--ink:#33202a;--faint:#7a6a72;--edge:#d8ccc0;--mark:#7a2f4a}
    body{margin:16px;font:16px/1.4 'DejaVu Sans',sans-serif;background:var(--page);color:var(--ink);display:grid;grid-template-columns:repeat(6,1fr);gap:12px}
    article{background:var(--card);border:1px solid var(--edge);border-radius:8px;padding:12px} h3{margin:0;font-size:18px} p{margin:4px 0}
    small{color:var(--faint)} a{color:var(--mark)} .badge{float:right;background:var(--mark);color:var(--card);border-radius:9px;padding:0 8px;font-size:12px}
    .band{background:linear-gradient(90deg,var(--card),var(--page))}</style><body>${Array.from({ length: Math.round(elements / 7) }, (_, n) => card(n)).join('')}`;
}
