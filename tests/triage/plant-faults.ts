// Faults put into a healthy app, one kind for each layer; each says what triage must find.
import type { Color } from '../../src/colour/color.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { toOklch } from '../../src/colour/lightness.ts';
import type { CauseLayer, Repair } from '../../src/samples/finding.ts';
import { fitted } from '../../src/triage/nearby-colors.ts';
import type { Definition, TokenEntry, TokenTable } from '../../src/triage/token-table.ts';
import type { App, PlaceModel, Source } from './app-model.ts';
import { entry, literal } from './healthy-app.ts';
import type { Seeded } from './seeded.ts';

export interface Planted {
  readonly layer: CauseLayer;
  readonly change: Repair['change'];
  /** Step, token or custom property at fault; for uses the token or literal in the wrong place. */
  readonly of: string;
  readonly themes: readonly string[];
}

export type Plant = (app: App, random: Seeded) => { readonly app: App; readonly planted: Planted };

/** A step of the grey ramp moves so far that its inks can no longer be read. */
export const plantRamp: Plant = (app, random) => {
  // Steps that several tokens end on, so that their values and not a token is what they share.
  const [theme, position] = random.pick([
    [0, 7],
    [0, 8],
    [1, 2],
    [1, 3],
  ] as const);
  const path = `silt.${position * 100}`;
  const token = tokenOf(app.table, path);
  const definition = token.definitions[theme];
  if (definition?.kind !== 'literal') throw new TypeError('a step is a literal');
  const { okLightness, chroma, hueDeg } = toOklch(definition.color);
  // Towards the surfaces it is read on: lighter in light themes, darker in dark ones. A shared declaration moves in all its themes.
  const color = fitted({ okLightness: okLightness + (theme === 1 ? -0.22 : 0.22), chroma, hueDeg });
  const shared = token.definitions.map((each) => each?.declared.id === definition.declared.id);
  const definitions = token.definitions.map((each, at) => (shared[at] === true && each !== null ? { ...each, color } : each));
  const themes = app.table.themes.flatMap(({ name }, at) => (shared[at] === true ? [name] : []));
  return { app: withToken(app, { ...token, definitions }), planted: { layer: 'ramp', change: 'value', of: path, themes } };
};

/** An ink points at a step near its surfaces, or a theme lost its override. */
export const plantToken: Plant = (app, random) => {
  const path = random.pick(['mark.quiet', 'table.unit', 'chart.label', 'station.code', ...signalMarks(app.table)]);
  const token = tokenOf(app.table, path);
  const [base, dusk, stark] = token.definitions;
  if (base?.kind !== 'alias' || dusk?.kind !== 'alias' || stark === undefined) throw new TypeError('a role is an alias');
  const ramp = dusk.target.split('.')[0] ?? '';
  const lost = random.next() < 0.4;
  const wrong: Definition = lost ? base : { ...dusk, target: `${ramp}.${random.pick([500, 600, 700])}` };
  return {
    app: withToken(app, { ...token, definitions: [base, wrong, stark] }),
    planted: { layer: 'token', change: 'alias', of: path, themes: ['dusk'] },
  };
};

/** Text in a token that is meant for edges or surfaces, or in a literal grey. */
export const plantUse: Plant = (app, random) => {
  const texts = app.places.filter(
    (place) => place.kind === 'text' && isToken(place.ink, 'mark.quiet') && isToken(place.on.at(-1), 'face.raised'),
  );
  const place = random.pick(texts);
  const ink: Source = random.next() < 0.5 ? { kind: 'token', path: 'edge.soft' } : { kind: 'literal', color: '#9aa3a8' };
  const places = app.places.map((each) => (each === place ? { ...place, ink } : each));
  return {
    app: { ...app, places },
    planted: { layer: 'usage', change: 'use', of: ink.kind === 'token' ? ink.path : ink.color, themes: [] },
  };
};

/** A panel that kept the literal colour of the light theme. */
export const plantUnthemed: Plant = (app, random) => {
  const place = random.pick(app.places.filter((each) => each.kind === 'surface'));
  const token = tokenOf(app.table, 'face.raised');
  const color = colorIn(app.table, token, 0);
  const places = app.places.map((each) =>
    each === place ? { ...place, fill: { kind: 'literal' as const, color: toCssText(color) } } : each,
  );
  return { app: { ...app, places }, planted: { layer: 'usage', change: 'use', of: toCssText(color), themes: ['dusk'] } };
};

/** Opacity on a text that reads well without it. */
export const plantOpacity: Plant = (app, random) => {
  const texts = app.places.filter((place) => place.kind === 'text' && isToken(place.ink, 'mark.quiet'));
  const place = random.pick(texts);
  const places = app.places.map((each) => (each === place ? { ...place, opacity: 0.45 } : each));
  return { app: { ...app, places }, planted: { layer: 'usage', change: 'style', of: 'mark.quiet', themes: [] } };
};

/** Texts on a middling surface that no step can be read on. */
export const plantGap: Plant = (app, random) => {
  // Between the lightest and the darkest step, where both give less than 4.5.
  const color: Color = fitted({ okLightness: 0.575, chroma: 0.03, hueDeg: random.whole(0, 359) });
  const face = entry(
    'statute.face',
    app.table.themes.map(() => literal(color, 'base')),
  );
  const page = random.pick(app.places).page;
  const on = { kind: 'token', path: 'statute.face' } as const;
  const places: readonly PlaceModel[] = [
    ...app.places,
    {
      kind: 'text',
      page,
      selector: '#statute',
      ink: { kind: 'token', path: random.pick(['mark.main', 'face.raised']) },
      on: [on],
      opacity: 1,
      large: false,
    },
  ];
  const table = { ...app.table, tokens: [...app.table.tokens, face] };
  return { app: { ...app, table, places }, planted: { layer: 'gap', change: 'add', of: 'statute.face', themes: [] } };
};

/** The page serves an ink as an older build had it. */
export const plantBuild: Plant = (app, random) => {
  const theme = random.pick([0, 1]);
  const path = random.pick(['mark.hint', 'station.code', 'table.unit']);
  const name = app.table.themes[theme]?.name ?? '';
  const middle = colorIn(app.table, tokenOf(app.table, theme === 0 ? 'silt.400' : 'silt.600'), theme);
  const stale = new Map(app.stale);
  stale.set(name, new Map([...(stale.get(name) ?? []), [path, middle]]));
  return {
    app: { ...app, stale },
    planted: { layer: 'build', change: 'rebuild', of: `--${path.replaceAll('.', '-')}`, themes: [name] },
  };
};

/** A shadow that dusk does not override. */
export const plantGlow: Plant = (app) => {
  const token = tokenOf(app.table, 'fall.low');
  const slate = literal({ r: 0.24, g: 0.35, b: 0.42, alpha: 0.5 }, 'base');
  const definitions = entry('fall.low', [slate, slate, slate]).definitions;
  return {
    app: withToken(app, { ...token, definitions }),
    planted: { layer: 'token', change: 'value', of: 'fall.low', themes: ['dusk'] },
  };
};

/** A step of a hue that kept its full chroma in the dark theme, under a banner. */
export const plantNeon: Plant = (app, random) => {
  const ramp = random.pick(app.table.ramps.slice(1));
  const path = ramp.steps[4] ?? '';
  const token = tokenOf(app.table, path);
  const definitionColor = colorIn(app.table, token, 1);
  const { hueDeg } = toOklch(definitionColor);
  const chromas = [0.6, 0.65, 0.7, 0.75, 0.8, 0.85].map((okLightness) => fitted({ okLightness, chroma: 0.32, hueDeg }));
  const color = chromas.toSorted((one, other) => toOklch(other).chroma - toOklch(one).chroma)[0] ?? definitionColor;
  const banner = entry(
    'banner.face',
    app.table.themes.map((_, at) => ({
      kind: 'alias' as const,
      target: at === 1 ? path : (ramp.steps[2] ?? ''),
      declared: { id: at === 1 ? 'dusk' : 'base' },
    })),
  );
  const definitions = token.definitions.map((each, at) =>
    at === 1
      ? literal(color, 'dusk')
      : each === null || each.kind === 'alias'
        ? each
        : literal(each.color, at === 0 ? 'base' : 'stark'),
  );
  const withStep = withToken(
    app,
    entry(
      path,
      definitions.filter((each) => each !== null),
    ),
  );
  const { page } = random.pick(app.places);
  const places: readonly PlaceModel[] = [
    ...app.places,
    {
      kind: 'surface',
      page,
      selector: '#banner',
      fill: { kind: 'token', path: 'banner.face' },
      on: [{ kind: 'token', path: 'face.page' }],
      widthCssPx: 1200,
      heightCssPx: 48,
    },
  ];
  return {
    app: { ...withStep, table: { ...withStep.table, tokens: [...withStep.table.tokens, banner] }, places },
    planted: { layer: 'ramp', change: 'value', of: path, themes: ['dusk'] },
  };
};

function isToken(source: Source | undefined, path: string): boolean {
  return source?.kind === 'token' && source.path === path;
}

function signalMarks(table: TokenTable): readonly string[] {
  return table.tokens.flatMap(({ path }) => (path.startsWith('signal.') && path.endsWith('.mark') ? [path] : []));
}

function tokenOf(table: TokenTable, path: string): TokenEntry {
  const token = table.tokens.find((each) => each.path === path);
  if (token === undefined) throw new RangeError(`no token ${path}`);
  return token;
}

function colorIn(table: TokenTable, token: TokenEntry, theme: number): Color {
  const definition = token.definitions[theme];
  if (definition === undefined || definition === null) throw new RangeError(`${token.path} is not defined`);
  return definition.kind === 'literal' ? definition.color : colorIn(table, tokenOf(table, definition.target), theme);
}

function withToken(app: App, token: TokenEntry): App {
  const tokens = app.table.tokens.map((each) => (each.path === token.path ? token : each));
  return { ...app, table: { ...app.table, tokens } };
}
