// A store with drawn screens of an invented harbour instead of rendered ones: exact rectangles in exact colours, so that tests know what
// must lie where, and as many views as a bench wants. Everything follows from the numbers handed in; no clock, no chance.
import { PNG } from 'pngjs';
import { requiredContrast } from '../src/colour/text-requirement.ts';
import { findingId } from '../src/checks/finding-id.ts';
import { contrastRatio } from '../src/colour/contrast-ratio.ts';
import { opaque } from '../src/colour/color.ts';
import { parseColor } from '../src/colour/parse-color.ts';
import type { Ledger } from '../src/ledger/ledger.ts';
import type { CauseEntry, ComparisonEntry, FindingEntry, RunTheme, ViewFindings } from '../src/ledger/records.ts';
import type { Difference } from '../src/samples/difference.ts';
import type { Cause } from '../src/samples/finding.ts';
import type { TextSample } from '../src/samples/sample.ts';
import type { Rect, View } from '../src/samples/view.ts';

export interface DrawnTheme extends RunTheme {
  readonly page: string;
  readonly card: string;
  readonly band: string;
  readonly ink: string;
  /** Ink of side notes; the fault of some themes. */
  readonly faint: string;
}

export const THEMES: readonly DrawnTheme[] = [
  { name: 'noon', tone: 'light', page: '#eef3f4', card: '#ffffff', band: '#1f586c', ink: '#12303c', faint: '#5b6f78' },
  { name: 'dusk', tone: 'dark', page: '#101a20', card: '#18262e', band: '#0f3344', ink: '#dcecf1', faint: '#56717c' },
  { name: 'stark', tone: 'light', page: '#ffffff', card: '#ffffff', band: '#08202d', ink: '#000000', faint: '#2b3a40' },
  { name: 'regatta', tone: 'light', page: '#f6f1ea', card: '#fffdf9', band: '#7a2f4a', ink: '#33202a', faint: '#a08a92' },
  { name: 'flip', tone: 'dark', page: '#110c0b', card: '#000000', band: '#e0a793', ink: '#edcfc3', faint: '#a49087' },
];

/** A text as it is laid out; the same place in every theme. */
export interface DrawnText {
  readonly key: string;
  readonly selector: string;
  readonly text: string;
  readonly rect: Rect;
  readonly on: 'card' | 'band';
  readonly ink: 'ink' | 'faint' | 'card';
  readonly large: boolean;
}

export interface Drawing {
  readonly widthCssPx: number;
  readonly heightCssPx: number;
  readonly cards: readonly Rect[];
  readonly texts: readonly DrawnText[];
}

const STATIONS = ['Skerry Light', 'North Mole', 'Gull Rock', 'Ferry Steps', 'Old Lock', 'Sandbar Buoy', 'Pilot House', 'East Quay'];

/** @param seed page number: pages differ in length @param size scale of everything, 1 for a width of 1280 */
export function drawing(seed: number, size = 1): Drawing {
  const px = (value: number): number => Math.round(value * size);
  const rows = 2 + (seed % 4);
  const texts: DrawnText[] = [
    {
      key: 'header>h1',
      selector: 'header > h1',
      text: 'Harbour screens',
      rect: [px(32), px(20), px(190), px(26)],
      on: 'band',
      ink: 'card',
      large: true,
    },
  ];
  const cards: Rect[] = [];
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < 3; column += 1) {
      const number = row * 3 + column;
      const [x, y] = [px(32 + column * 408), px(100 + row * 250)];
      cards.push([x, y, px(384), px(220)]);
      const at = `main > section:nth-of-type(${String(number + 1)})`;
      const name = STATIONS[(number + seed) % STATIONS.length] ?? '';
      texts.push(
        {
          key: `card${String(number)}>h2`,
          selector: `${at} > h2`,
          text: name,
          rect: [x + px(20), y + px(20), px(150), px(22)],
          on: 'card',
          ink: 'ink',
          large: true,
        },
        {
          key: `card${String(number)}>p`,
          selector: `${at} > p`,
          text: `Level ${(1.2 + number * 0.37).toFixed(2)} m, rising`,
          rect: [x + px(20), y + px(64), px(230), px(16)],
          on: 'card',
          ink: 'ink',
          large: false,
        },
        {
          key: `card${String(number)}>small`,
          selector: `${at} > small`,
          text: 'Last reading 4 minutes ago',
          rect: [x + px(20), y + px(176), px(180), px(14)],
          on: 'card',
          ink: 'faint',
          large: false,
        },
      );
    }
  }
  return { widthCssPx: px(1280), heightCssPx: px(100 + rows * 250 + 40), cards, texts };
}

/** Pictures drawn lately: most nights show what the night before showed. */
const drawn = new Map<string, Buffer>();
const MOST_DRAWN = 100;

export function drawPicture(drawing: Drawing, theme: DrawnTheme): Buffer {
  const asked = JSON.stringify([drawing, theme]);
  const known = drawn.get(asked);
  if (known !== undefined) return known;
  if (drawn.size >= MOST_DRAWN) drawn.clear();
  const picture = drawAnew(drawing, theme);
  drawn.set(asked, picture);
  return picture;
}

function drawAnew({ widthCssPx, heightCssPx, cards, texts }: Drawing, theme: DrawnTheme): Buffer {
  const png = new PNG({ width: widthCssPx, height: heightCssPx });
  const fill = ([x, y, width, height]: Rect, color: string): void => {
    const pixel = Buffer.from(`${color.slice(1)}ff`, 'hex');
    const line = Buffer.alloc(width * 4, pixel);
    for (let row = y; row < Math.min(heightCssPx, y + height); row += 1) line.copy(png.data, (row * widthCssPx + x) * 4);
  };
  fill([0, 0, widthCssPx, heightCssPx], theme.page);
  fill([0, 0, widthCssPx, texts[0] === undefined ? 0 : texts[0].rect[1] * 2 + texts[0].rect[3]], theme.band);
  for (const card of cards) fill(card, theme.card);
  for (const { rect, ink, text } of texts) {
    // Words as bars: the first pixel of every word is the ink itself.
    const [x, y, width, height] = rect;
    const letters = Math.max(1, text.length);
    let at = 0;
    for (const word of text.split(' ')) {
      const left = x + Math.round((at / letters) * width);
      fill(
        [
          left,
          y + Math.round(height * 0.2),
          Math.max(1, Math.round((word.length / letters) * width)),
          Math.max(1, Math.round(height * 0.6)),
        ],
        theme[ink],
      );
      at += word.length + 1;
    }
  }
  return PNG.sync.write(png, { filterType: 0, deflateLevel: 1 });
}

export function sampleOf(text: DrawnText, theme: DrawnTheme, view: string): TextSample {
  const [color, background] = [theme[text.ink], theme[text.on]];
  const ratio = contrastRatio({ ink: opaque(parseColor(color)), background: opaque(parseColor(background)) });
  return {
    kind: 'text',
    view,
    selector: text.selector,
    key: text.key,
    rect: text.rect,
    label: text.text,
    text: text.text,
    color,
    background,
    backgroundSpread: [background],
    contrast: { min: ratio, max: ratio },
    fontSize: text.rect[3],
    fontWeight: text.large ? 700 : 400,
    large: text.large,
    exempt: null,
    basis: 'computed',
    ink: {
      property: 'color',
      color,
      origin: { kind: 'token', property: `--mark-${text.ink}`, alpha: 1, step: `--silt-${text.ink === 'faint' ? '500' : '900'}` },
    },
    inkOpacity: 1,
    layers: [
      {
        selector: null,
        kind: 'color',
        opacity: 1,
        paint: { property: 'background-color', color: '#ffffff', origin: { kind: 'system' } },
      },
      {
        selector: text.on === 'band' ? 'header' : 'main > section',
        kind: 'color',
        opacity: 1,
        paint: {
          property: 'background-color',
          color: background,
          origin: { kind: 'token', property: `--face-${text.on}`, alpha: 1 },
        },
      },
    ],
  };
}

export interface DrawnNight {
  /** ISO 8601. */
  readonly at: string;
  readonly pages: readonly string[];
  readonly themes: readonly DrawnTheme[];
  readonly states?: readonly string[];
  readonly owner?: (page: string) => string;
  /** Scale of the drawings; small ones for many views. */
  readonly size?: number;
  /** Views that fail. */
  readonly fails?: (view: View) => boolean;
  /** Changes what is known of a text before it is stored: texts and selectors of hostile pages. */
  readonly twist?: (text: DrawnText, index: number) => DrawnText;
  readonly title?: (page: string) => string;
  readonly url?: (page: string) => string;
  /** Themes that the accepted pictures were drawn with; compares with what is accepted in the set `main`. */
  readonly against?: readonly DrawnTheme[];
  /** Left running, as a killed or current run is. */
  readonly unfinished?: boolean;
}

/** Draws, stores and finishes one run. @returns its id */
export async function storeNight(ledger: Ledger, night: DrawnNight): Promise<string> {
  const { pages, themes, states = ['rest'], size = 1 } = night;
  const twist = night.twist ?? ((text: DrawnText): DrawnText => text);
  const views: readonly View[] = pages.flatMap((page) =>
    states.flatMap((state) =>
      themes.map((theme) => ({
        id: `${page}@${theme.name}~${state}`,
        page,
        theme: theme.name,
        state,
        viewport: 'desk',
        url: night.url?.(page) ?? `http://127.0.0.1:4100/${encodeURIComponent(page)}.html`,
      })),
    ),
  );
  const run = await ledger.beginRun({
    startedAt: night.at,
    gloam: '0.1.0',
    browser: 'Chromium 156',
    reference: themes[0]?.name ?? '',
    themes: themes.map(({ name, tone }) => ({ name, tone })),
    views,
  });
  const pictures = new Map<string, Buffer>();
  const shots = new Map<string, string>();
  let found: ViewFindings[] = [];
  for (const [number, view] of views.entries()) {
    const theme = themes.find(({ name }) => name === view.theme);
    if (theme === undefined) continue;
    if (night.fails?.(view) === true) {
      await ledger.storeView(run, {
        view,
        status: 'failed',
        ms: 30_000,
        code: 'page-timeout',
        error: `${view.page}: the page did not settle within 30 s; expected quiet network and fonts.`,
      });
      continue;
    }
    const seed = pages.indexOf(view.page);
    const drawn = drawing(seed, size);
    const texts = drawn.texts.map((text, index) => twist(text, index));
    const name = `${String(seed % 40)} ${theme.name} ${theme.faint}`;
    const shot = pictures.get(name) ?? drawPicture(drawing(seed % 40, size), theme);
    pictures.set(name, shot);
    const samples = texts.map((text) => sampleOf(text, theme, view.id));
    const receipt = await ledger.storeView(run, {
      view,
      status: 'captured',
      ms: 180 + (number % 7) * 20,
      page: {
        title: night.title?.(view.page) ?? `Harbour: ${view.page}`,
        widthCssPx: drawn.widthCssPx,
        heightCssPx: drawn.heightCssPx,
        scale: 1,
      },
      shot,
      samples,
      properties: [],
      notes: [],
    });
    shots.set(view.id, receipt.shot ?? '');
    const owner = night.owner?.(view.page);
    found.push({ view, findings: samples.flatMap((sample) => entryOf(view, sample, owner)) });
    if (found.length === 100) {
      await ledger.storeFindings(run, found);
      found = [];
    }
  }
  await ledger.storeFindings(run, found);
  await ledger.storeCauses(run, await causesOf(ledger, run, themes));
  await ledger.storeCoverage(
    run,
    views
      .map(({ page, theme }, index) => {
        const owner = night.owner?.(page);
        return { page, theme, ...(owner === undefined ? {} : { owner }), uses: 200, throughTokens: 200 - ((index * 7) % 23) };
      })
      .filter((fact, index, all) => all.findIndex(({ page, theme }) => page === fact.page && theme === fact.theme) === index),
  );
  if (night.against !== undefined) await ledger.storeComparisons(run, await comparisonsOf(ledger, night, views, shots));
  if (night.unfinished !== true) await ledger.finishRun(run, night.at);
  return run;
}

async function comparisonsOf(
  ledger: Ledger,
  night: DrawnNight,
  views: readonly View[],
  shots: ReadonlyMap<string, string>,
): Promise<readonly ComparisonEntry[]> {
  const accepted = new Map((await ledger.accepted(['main'])).map((picture) => [picture.id, picture.shot]));
  return views.flatMap((view): readonly ComparisonEntry[] => {
    const [now, before] = [shots.get(view.id), accepted.get(view.id)];
    if (now === undefined) return [];
    if (before === undefined) return [{ view, verdict: 'new' }];
    if (before === now) return [{ view, verdict: 'same', accepted: before }];
    const [is, was] = [night.themes, night.against ?? []].map((themes) => themes.find(({ name }) => name === view.theme));
    const found = differenceOf(drawing(night.pages.indexOf(view.page), night.size), was?.faint ?? '', is?.faint ?? '');
    return [{ view, verdict: 'changed', accepted: before, difference: { found, settings: 'drawn' } }];
  });
}

/** The side notes got another ink; nothing else ever differs between two drawings of a page. */
function differenceOf({ texts, widthCssPx, heightCssPx }: Drawing, from: string, to: string): Difference {
  const notes = texts.filter(({ ink }) => ink === 'faint');
  const pixels = (rect: Rect): number => rect[2] * rect[3];
  const changedPixels = notes.reduce((sum, { rect }) => sum + pixels(rect), 0);
  const [first] = notes;
  return {
    changedPixels,
    totalPixels: widthCssPx * heightCssPx,
    regions: notes.map(({ rect }) => ({ kind: 'changed', current: rect, accepted: rect, pixels: pixels(rect) })),
    explanations:
      first === undefined
        ? []
        : [
            {
              change: { kind: 'recoloured', token: 'silt.500', property: 'color', from, to },
              group: `silt.500 ${from} ${to}`,
              selector: first.selector,
              key: first.key,
              rect: first.rect,
              pixels: changedPixels,
              places: notes.length,
            },
          ],
  };
}

function entryOf(view: View, sample: TextSample, owner: string | undefined): readonly FindingEntry[] {
  const { key, selector, rect, contrast, color, background, text } = sample;
  const required = requiredContrast(sample.large, 'AA');
  if (contrast.min >= required) return [];
  return [
    {
      id: findingId(view, { check: 'text-contrast', key }),
      draft: {
        check: 'text-contrast',
        level: contrast.min < 3 ? 'error' : 'warning',
        key,
        selector,
        rect,
        message: `“${text}” has ${(Math.floor(contrast.min * 100) / 100).toFixed(2)}:1 on its background; ${String(required)}:1 is needed.`,
        measured: { contrast: contrast.min, ink: color, background },
        expected: { contrast: required },
      },
      ...(owner === undefined ? {} : { owner }),
    },
  ];
}

/** One cause a theme and ink. */
async function causesOf(ledger: Ledger, run: string, themes: readonly DrawnTheme[]): Promise<readonly CauseEntry[]> {
  const entries: CauseEntry[] = [];
  for (const theme of themes) {
    const ids: string[] = [];
    const pages = new Set<string>();
    let after: string | undefined;
    do {
      const slice = await ledger.findings(run, { theme: theme.name, limit: 1_000, ...(after === undefined ? {} : { after }) });
      for (const { id, page } of slice.items) {
        ids.push(id);
        pages.add(page);
      }
      after = slice.next ?? undefined;
    } while (after !== undefined);
    if (ids.length > 0) entries.push({ cause: causeOf(theme, ids.length, pages.size), findings: ids });
  }
  return entries;
}

function causeOf(theme: DrawnTheme, findings: number, pages: number): Cause {
  return {
    id: `cause-faint-${theme.name}`,
    layer: theme.tone === 'dark' ? 'token' : 'ramp',
    token: 'mark.faint',
    step: 'silt.500',
    property: '--mark-faint',
    chain: [
      { property: 'color', value: theme.faint },
      { property: '--mark-faint', value: theme.faint, file: 'app/tokens.css', line: 41 },
      { token: 'mark.faint', value: '{silt.500}', file: `tokens/${theme.name}.tokens.json`, line: 18 },
      { token: 'silt.500', value: theme.faint, file: 'tokens/ramps.tokens.json', line: 9 },
    ],
    findings,
    themes: [theme.name],
    pages,
    confidence: 0.92,
    why: `In ${theme.name} mark.faint points at silt.500, which is too near to face.card; every other user of silt.500 is a line.`,
    repair: {
      change: 'alias',
      of: 'mark.faint',
      from: 'silt.500',
      to: 'silt.300',
      themes: [theme.name],
      fixes: findings,
      breaks: 0,
    },
  };
}
