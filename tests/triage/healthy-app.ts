// A seeded app in which nothing is wrong: ramps, tokens that point at them in every theme, and pages that use the tokens.
import type { Color } from '../../src/colour/color.ts';
import { fitted } from '../../src/triage/propose/nearby-colors.ts';
import type { Definition, TokenEntry, TokenTable } from '../../src/triage/tokens/token-table.ts';
import type { App, PlaceModel, Source } from './app-model.ts';
import type { Seeded } from './seeded.ts';

const THEMES = [
  { name: 'noon', tone: 'light' },
  { name: 'dusk', tone: 'dark' },
  { name: 'stark', tone: 'light' },
] as const;

/** Where a token stands in noon, dusk and stark: positions on an eleven-step ramp. */
type Standing = readonly [noon: number, dusk: number, stark: number];

const SURFACES: Readonly<Record<string, Standing>> = {
  'face.page': [1, 10, 1],
  'face.raised': [0, 9, 0],
  'face.sunken': [2, 9, 2],
};
/** A row under the pointer, and a head bar that stays dark in every theme, with what is written on them. */
const PARTS: Readonly<Record<string, Standing>> = {
  'row.hover': [2, 9, 2],
  'row.mark': [10, 0, 10],
  'head.face': [9, 9, 9],
  'head.mark': [1, 1, 0],
  'head.quiet': [3, 3, 2],
  'focus.ring': [8, 2, 9],
};
const INKS: Readonly<Record<string, Standing>> = {
  'mark.main': [9, 1, 10],
  'mark.quiet': [8, 2, 9],
  'mark.hint': [7, 3, 8],
  'table.unit': [7, 3, 8],
  'chart.label': [8, 3, 9],
  'station.code': [8, 2, 9],
};
const EDGES: Readonly<Record<string, Standing>> = {
  'edge.control': [6, 5, 8],
  'edge.soft': [3, 7, 3],
  'icon.main': [8, 2, 9],
  'icon.quiet': [7, 3, 8],
};
/** On ramps with a hue. */
const SIGNALS: readonly string[] = ['alarm', 'warn', 'calm', 'note'];

const declared = (id: string): Definition['declared'] => ({ id, file: `${id.split(' ')[0] ?? ''}.tokens.json`, line: 1 });

export interface HealthyApp extends App {
  readonly ramps: readonly string[];
}

export function healthyApp(random: Seeded): HealthyApp {
  const hues = random.shuffled([20, 60, 110, 150, 200, 255, 300, 340]);
  const rampNames = ['silt', ...random.shuffled(['tide', 'buoy', 'kelp', 'ember', 'brass', 'sail']).slice(0, random.whole(2, 4))];
  // The dark theme has ramps of its own in about half of the apps.
  const ownRamps = random.next() < 0.5;
  const steps = rampNames.flatMap((name, at) => {
    const hue = hues[at] ?? 0;
    const chroma = at === 0 ? 0.012 : 0.03 + random.next() * 0.035;
    return Array.from({ length: 11 }, (_, position): TokenEntry => {
      const light = stepColor(position, hue, chroma);
      const dark = ownRamps ? stepColor(position, hue, chroma * 0.8) : light;
      return entry(`${name}.${position * 100}`, [
        literal(light, 'base'),
        literal(dark, ownRamps ? 'dusk' : 'base'),
        literal(light, 'base'),
      ]);
    });
  });
  const roles = [SURFACES, INKS, EDGES, PARTS].flatMap((table) =>
    Object.entries(table).map(([path, standing]) =>
      alias(
        path,
        standing,
        standing.map(() => 'silt'),
      ),
    ),
  );
  const signals = SIGNALS.slice(0, random.whole(2, 4)).flatMap((name, at) => {
    const ramp = rampNames[1 + (at % (rampNames.length - 1))] ?? 'silt';
    return [
      alias(`signal.${name}.face`, [2, 9, 1], [ramp, ramp, ramp]),
      alias(`signal.${name}.mark`, [9, 2, 10], [ramp, ramp, ramp]),
    ];
  });
  const fall = entry('fall.low', [
    literal({ r: 0.05, g: 0.1, b: 0.13, alpha: 0.2 }, 'base'),
    literal({ r: 0, g: 0, b: 0, alpha: 0.5 }, 'dusk'),
    literal({ r: 0.05, g: 0.1, b: 0.13, alpha: 0.2 }, 'base'),
  ]);
  // Glares on purpose, in every theme.
  const lamp = entry(
    'lamp.alarm',
    THEMES.map(() => literal({ r: 1, g: 0.1, b: 0.2, alpha: 1 }, 'base')),
  );
  const tokens = [...steps, ...roles, ...signals, fall, lamp];
  const table: TokenTable = {
    themes: THEMES,
    reference: 0,
    tokens,
    ramps: rampNames.map((name) => ({ name, steps: Array.from({ length: 11 }, (_, at) => `${name}.${at * 100}`) })),
  };
  return { table, places: placesOf(random, signals), stale: new Map(), ramps: rampNames };
}

/** OKLCH lightness along the ramp: .985 down to .2, a little bent. */
function stepColor(position: number, hueDeg: number, chroma: number): Color {
  const t = position / 10;
  const okLightness = 0.985 - 0.785 * (0.75 * t + 0.25 * t * t);
  return fitted({ okLightness, chroma: chroma * (0.4 + 2.4 * t * (1 - t)), hueDeg });
}

export function literal(color: Color, where: string): Definition {
  return { kind: 'literal', color, declared: declared(where) };
}

/** Stark and dusk override; noon is the base. An override that points where the base points is not written. */
function alias(path: string, standing: Standing, ramps: readonly string[]): TokenEntry {
  const [base] = standing;
  return entry(
    path,
    standing.map((position, theme) => ({
      kind: 'alias',
      target: `${ramps[theme] ?? 'silt'}.${position * 100}`,
      declared: declared(
        `${theme === 0 || (position === base && theme === 2 && !path.startsWith('head.')) ? 'base' : (THEMES[theme]?.name ?? '')} ${path}`,
      ),
    })),
  );
}

export function entry(path: string, definitions: readonly Definition[]): TokenEntry {
  // One declaration for all themes that share it.
  const own = definitions.map((each) => ({ ...each, declared: declared(`${each.declared.id.split(' ')[0] ?? ''} ${path}`) }));
  return { path, properties: [`--${path.replaceAll('.', '-')}`], definitions: own };
}

const token = (path: string): Source => ({ kind: 'token', path });

function placesOf(random: Seeded, signals: readonly TokenEntry[]): readonly PlaceModel[] {
  const pages = ['stations', 'tides', 'berths', 'alarms', 'map', 'help', 'watch', 'settings'].slice(0, random.whole(4, 8));
  const out: PlaceModel[] = [];
  for (const page of pages) {
    out.push({
      kind: 'surface',
      page,
      selector: `#${page}-card`,
      fill: token('face.raised'),
      on: [token('face.page')],
      widthCssPx: 600,
      heightCssPx: 300,
    });
    out.push({ kind: 'shadow', page, selector: `#${page}-card`, fall: token('fall.low'), on: [token('face.page')] });
    out.push(...partsOf(page));
    for (const ink of ['mark.main', 'mark.quiet', 'mark.hint']) {
      for (const face of Object.keys(SURFACES)) {
        // Hints are for page and raised only.
        if ((ink === 'mark.hint' && face === 'face.sunken') || (ink !== 'mark.main' && random.next() < 0.25)) continue;
        out.push(text(page, `#${page}-${ink.slice(5)}-${face.slice(5)}`, ink, face));
      }
    }
    for (const ink of ['table.unit', 'chart.label', 'station.code']) {
      if (random.next() < 0.5)
        out.push(text(page, `#${page}-${ink.replace('.', '-')}`, ink, random.pick(['face.raised', 'face.page'])));
    }
    for (const signal of signals.filter((each) => each.path.endsWith('.face'))) {
      const name = signal.path.split('.')[1] ?? '';
      if (random.next() < 0.5) out.push(text(page, `#${page}-${name}`, `signal.${name}.mark`, signal.path));
    }
    out.push(graphic(page, `#${page}-field`, 'border', 'edge.control', 'face.raised'));
    out.push(graphic(page, `#${page}-bell`, 'icon', 'icon.main', 'face.raised'));
    out.push(graphic(page, `#${page}-sound`, 'icon', 'icon.quiet', 'face.page'));
  }
  // Every token is used somewhere.
  const [page = ''] = pages;
  for (const ink of Object.keys(INKS)) out.push(text(page, `#first-${ink.replace('.', '-')}`, ink, 'face.raised'));
  for (const { path } of signals)
    if (path.endsWith('.mark')) out.push(text(page, `#first-${path.replaceAll('.', '-')}`, path, path.replace('mark', 'face')));
  return out;
}

function partsOf(page: string): readonly PlaceModel[] {
  const on = [token('face.page')];
  const box = { kind: 'surface', page, on } as const;
  return [
    { ...box, selector: `#${page}-head`, fill: token('head.face'), widthCssPx: 1200, heightCssPx: 56, stay: 'dark' },
    text(page, `#${page}-head-title`, 'head.mark', 'head.face'),
    text(page, `#${page}-head-note`, 'head.quiet', 'head.face'),
    { ...box, selector: `#${page}-row`, fill: token('row.hover'), widthCssPx: 600, heightCssPx: 40, rule: '.row:hover' },
    text(page, `#${page}-row-text`, 'row.mark', 'row.hover'),
    { ...box, selector: `#${page}-lamp`, fill: token('lamp.alarm'), widthCssPx: 64, heightCssPx: 64, exempt: true },
    graphic(page, `#${page}-link`, 'focus', 'focus.ring', 'face.page'),
    graphic(page, `#${page}-button`, 'focus', 'focus.ring', 'face.raised'),
  ];
}

export function text(page: string, selector: string, ink: string, face: string): PlaceModel {
  return { kind: 'text', page, selector, ink: token(ink), on: [token(face)], opacity: 1, large: false };
}

function graphic(page: string, selector: string, role: 'icon' | 'border' | 'focus', ink: string, face: string): PlaceModel {
  return { kind: 'graphic', page, selector, role, ink: token(ink), on: [token(face)] };
}
