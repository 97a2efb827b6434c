// Faults in the values of ramps. What a designer would choose: the step back where it was, within what the ramp’s own course leaves open
// (ΔE OK .04, from which the token checks call a step off course), in the themes that share its declaration.
import type { Color } from '../../src/colour/color.ts';
import { deltaEOk, toOklch } from '../../src/colour/lightness.ts';
import { fitted } from '../../src/triage/propose/nearby-colors.ts';
import type { App } from './app-model.ts';
import { entry, literal } from './healthy-app.ts';
import type { Plant, Planted } from './plant.ts';
import { colorIn, targetIn, tokenOf, withToken } from './plant.ts';

const COURSE = 0.04;

/** An ink’s step moves so far towards its surfaces that it can no longer be read. */
export const plantInkStep: Plant = (app, random, aim) => {
  const theme = random.pick([0, 1]);
  const { app: moved, planted } = withStepMoved(app, targetIn(app.table, aim.ink, theme), theme, theme === 1 ? -0.22 : 0.22);
  return { app: moved, planted: [planted] };
};

/** The surfaces’ step in the dark theme at L* 34 instead of 15: everything on it reads worse. A signal’s tag carries stronger ink. */
export const plantSurfaceStep: Plant = (app, _random, aim) => {
  const { app: moved, planted } = withStepMoved(app, targetIn(app.table, aim.face, 1), 1, aim.face === 'face.raised' ? 0.16 : 0.28);
  return { app: moved, planted: [planted] };
};

/** Two neighbours moved alike are two faults. */
export const plantTwoSteps: Plant = (app) => {
  const one = withStepMoved(app, 'silt.200', 1, -0.2);
  const two = withStepMoved(one.app, 'silt.300', 1, -0.2);
  return { app: two.app, planted: [one.planted, two.planted] };
};

/** A step of a hue that kept its full chroma in the dark theme, under a banner. */
export const plantNeon: Plant = (app, random, aim) => {
  const ramp = random.pick(app.table.ramps.slice(1));
  // A surface’s step, so that the banner is quiet without the fault.
  const path = ramp.steps[9] ?? '';
  const token = tokenOf(app.table, path);
  const before = colorIn(app.table, token, 1);
  const { hueDeg } = toOklch(before);
  const strong = [0.6, 0.65, 0.7, 0.75, 0.8, 0.85].map((okLightness) => fitted({ okLightness, chroma: 0.32, hueDeg }));
  const color = strong.toSorted((one, other) => toOklch(other).chroma - toOklch(one).chroma)[0] ?? before;
  const banner = entry(
    'banner.face',
    app.table.themes.map((_, at) => ({
      kind: 'alias' as const,
      target: at === 1 ? path : (ramp.steps[2] ?? ''),
      declared: { id: at === 1 ? 'dusk' : 'base' },
    })),
  );
  const values = [0, 1, 2].map((at) => (at === 1 ? color : colorIn(app.table, token, at)));
  const definitions = values.map((value, at) => literal(value, ['base', 'dusk', 'stark'][at] ?? ''));
  const stepped = withToken(app, entry(path, definitions));
  return {
    app: {
      ...stepped,
      table: { ...stepped.table, tokens: [...stepped.table.tokens, banner] },
      places: [
        ...app.places,
        {
          kind: 'surface',
          page: aim.place.page,
          selector: '#banner',
          fill: { kind: 'token', path: 'banner.face' },
          on: [{ kind: 'token', path: 'face.page' }],
          widthCssPx: 1200,
          heightCssPx: 48,
        },
      ],
    },
    planted: [backTo(path, before, ['dusk'])],
  };
};

/** In all themes that share the declaration. @param shift OKLCH lightness */
function withStepMoved(app: App, path: string, theme: number, shift: number): { readonly app: App; readonly planted: Planted } {
  const token = tokenOf(app.table, path);
  const definition = token.definitions[theme];
  if (definition?.kind !== 'literal') throw new TypeError('a step is a literal');
  const { okLightness, chroma, hueDeg } = toOklch(definition.color);
  const color = fitted({ okLightness: okLightness + shift, chroma, hueDeg });
  const shared = token.definitions.map((each) => each?.declared.id === definition.declared.id);
  const definitions = token.definitions.map((each, at) => (shared[at] === true && each !== null ? { ...each, color } : each));
  const themes = app.table.themes.flatMap(({ name }, at) => (shared[at] === true ? [name] : []));
  return { app: withToken(app, { ...token, definitions }), planted: backTo(path, definition.color, themes) };
}

function backTo(path: string, before: Color, themes: readonly string[]): Planted {
  return {
    layer: 'ramp',
    change: 'value',
    of: path,
    themes,
    wouldChoose: (change) => change.kind === 'value' && deltaEOk(change.color, before) <= COURSE,
  };
}
