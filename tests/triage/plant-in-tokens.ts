// Faults in definitions, in the set and in the delivery. What a designer would choose is said at each kind.
import type { Color } from '../../src/colour/color.ts';
import { cieLightness } from '../../src/colour/lightness.ts';
import { opaque } from '../../src/colour/color.ts';
import { fitted } from '../../src/triage/propose/nearby-colors.ts';
import type { App, PlaceModel } from './app-model.ts';
import { entry, literal } from './healthy-app.ts';
import type { Plant, Planted } from './plant.ts';
import { colorIn, rampOf, targetIn, tokenOf, withToken } from './plant.ts';

/** An ink points at a step near its surfaces. Chosen: the step it pointed at, or the one beside it. */
export const plantAlias: Plant = (app, random, { ink }) => {
  const right = targetIn(app.table, ink, 1);
  return { app: pointed(app, ink, 1, `${rampOf(right)}.${random.pick([500, 600, 700])}`), planted: [backAt(ink, right)] };
};

/** The dark theme lost its override, so that the token keeps the light theme’s step. Chosen: the override, for this theme only. */
export const plantOverride: Plant = (app, _random, { ink }) => {
  const token = tokenOf(app.table, ink);
  const right = targetIn(app.table, ink, 1);
  const [base] = token.definitions;
  if (base === undefined) throw new TypeError('a role has a base');
  return { app: withToken(app, { ...token, definitions: token.definitions.with(1, base) }), planted: [backAt(ink, right)] };
};

/** A bar that must stay dark was turned over with the rest. Chosen: a step as dark as in the other themes. */
export const plantStay: Plant = (app, random) => {
  const right = targetIn(app.table, 'head.face', 1);
  return { app: pointed(app, 'head.face', 1, `silt.${random.pick([100, 200, 300])}`), planted: [backAt('head.face', right)] };
};

/** Amber ink on a teal tag, and unreadable there. Chosen: back on the tag’s own ramp, where the other signals stand. */
export const plantHue: Plant = (app, random) => {
  const marks = app.table.tokens.flatMap(({ path }) => (path.startsWith('signal.') && path.endsWith('.mark') ? [path] : []));
  const path = random.pick(marks);
  const right = targetIn(app.table, path, 1);
  const own = rampOf(right);
  const others = app.table.ramps.filter(({ name }) => name !== own && name !== 'silt');
  const { name } = random.pick(others);
  return { app: pointed(app, path, 1, `${name}.${random.pick([500, 600, 700])}`), planted: [backAt(path, right)] };
};

/** The focus ring points at the very step that it lies on. Chosen: the step it pointed at, or the one beside it. */
export const plantRing: Plant = (app) => {
  const right = targetIn(app.table, 'focus.ring', 1);
  return { app: pointed(app, 'focus.ring', 1, targetIn(app.table, 'face.page', 1)), planted: [backAt('focus.ring', right)] };
};

/** A shadow that the dark theme does not override. Chosen: darker than what it falls on, in that theme. */
export const plantGlow: Plant = (app) => {
  const slate = literal({ r: 0.24, g: 0.35, b: 0.42, alpha: 0.5 }, 'base');
  const ground = colorIn(app.table, tokenOf(app.table, 'face.page'), 1);
  const { definitions } = entry('fall.low', [slate, slate, slate]);
  return {
    app: withToken(app, { ...tokenOf(app.table, 'fall.low'), definitions }),
    planted: [
      {
        layer: 'token',
        change: 'value',
        of: 'fall.low',
        themes: ['dusk'],
        wouldChoose: (change) =>
          change.kind === 'value' &&
          change.themes.join() === '1' &&
          cieLightness(opaque(change.color)) <= cieLightness(opaque(ground)),
      },
    ],
  };
};

/** The page serves an ink as an older build had it. Chosen: to build it anew. */
export const plantBuild: Plant = (app, random, { ink }) => {
  const theme = random.pick([0, 1]);
  const name = app.table.themes[theme]?.name ?? '';
  const ramp = rampOf(targetIn(app.table, ink, theme));
  const middle = colorIn(app.table, tokenOf(app.table, `${ramp}.${theme === 0 ? 400 : 600}`), theme);
  const stale = new Map(app.stale);
  stale.set(name, new Map([...(stale.get(name) ?? []), [ink, middle]]));
  return {
    app: { ...app, stale },
    planted: [
      {
        layer: 'build',
        change: 'rebuild',
        of: `--${ink.replaceAll('.', '-')}`,
        themes: [name],
        wouldChoose: (change) => change.kind === 'rebuild',
      },
    ],
  };
};

/** Texts on a middling surface that no step can be read on. Chosen: a token for it. */
export const plantGap: Plant = (app, random, { place }) => {
  // Between the lightest and the darkest step, where both give less than 4.5.
  const color: Color = fitted({ okLightness: 0.575, chroma: 0.03, hueDeg: random.whole(0, 359) });
  const face = entry(
    'statute.face',
    app.table.themes.map(() => literal(color, 'base')),
  );
  const statute: PlaceModel = {
    kind: 'text',
    page: place.page,
    selector: '#statute',
    ink: { kind: 'token', path: random.pick(['mark.main', 'face.raised']) },
    on: [{ kind: 'token', path: 'statute.face' }],
    opacity: 1,
    large: false,
  };
  return {
    app: { ...app, table: { ...app.table, tokens: [...app.table.tokens, face] }, places: [...app.places, statute] },
    planted: [{ layer: 'gap', change: 'add', of: 'statute.face', themes: [], wouldChoose: (change) => change.kind === 'add' }],
  };
};

function pointed(app: App, path: string, theme: number, target: string): App {
  const token = tokenOf(app.table, path);
  const declared = { id: `${app.table.themes[theme]?.name ?? ''} ${path}` };
  return withToken(app, { ...token, definitions: token.definitions.with(theme, { kind: 'alias', target, declared }) });
}

function backAt(path: string, right: string): Planted {
  return {
    layer: 'token',
    change: 'alias',
    of: path,
    themes: ['dusk'],
    wouldChoose: (change, pathOf) => {
      if (change.kind !== 'alias' || change.themes.join() !== '1') return false;
      const target = pathOf(change.target);
      return rampOf(target) === rampOf(right) && Math.abs(numberOf(target) - numberOf(right)) <= 100;
    },
  };
}

function numberOf(step: string): number {
  return Number(step.split('.')[1]);
}
