// The app as data → samples of every view and the findings of the real checks on them.
import { runChecks } from '../../src/checks/run-checks.ts';
import { ALL_CHECKS } from '../../src/checks/table.ts';
import type { Color, Opaque } from '../../src/colour/color.ts';
import { opaque, WHITE } from '../../src/colour/color.ts';
import { over, withOpacity } from '../../src/colour/composite.ts';
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { toCssText } from '../../src/colour/format-color.ts';
import { cieLightness, toOklch } from '../../src/colour/lightness.ts';
import { parseColor } from '../../src/colour/parse-color.ts';
import type { CheckId, Finding } from '../../src/samples/finding.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { ViewRef } from '../../src/samples/view.ts';
import type { ServedProperty } from '../../src/triage/tokens/build-faults.ts';
import type { TableIndex } from '../../src/triage/tokens/table-index.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';
import type { ActiveCheck } from '../../src/triage/world.ts';
import type { App, PlaceModel, Source } from './app-model.ts';

export interface PaintedView {
  readonly view: ViewRef;
  readonly samples: readonly Sample[];
}

export interface PaintedApp {
  readonly views: readonly PaintedView[];
  readonly findings: readonly Finding[];
  readonly served: readonly ServedProperty[];
}

export const ALL_ACTIVE: ReadonlyMap<CheckId, ActiveCheck> = new Map(ALL_CHECKS.map((check) => [check.id, { check, options: {} }]));

export function paintApp(app: App): PaintedApp {
  const index = indexTable(app.table);
  const pages = [...new Set(app.places.map((place) => place.page))];
  const painters = app.table.themes.map((_, theme) => openPainter(app, index, theme));
  const views = pages.flatMap((page) =>
    app.table.themes.flatMap(({ name }, theme) => {
      const view = { id: `${page}@${name}`, page, theme: name, state: 'rest', viewport: 'desk' };
      const painter = painters[theme];
      if (painter === undefined) return [];
      return { view, samples: app.places.filter((place) => place.page === page).map((place) => sampleOf(place, view, painter)) };
    }),
  );
  const findings = pages.flatMap((page) => {
    const group = views
      .filter(({ view }) => view.page === page)
      .map(({ view, samples }) => ({ view, samples, tone: app.table.themes[index.themeAt(view.theme)]?.tone ?? 'light' }));
    return runChecks(group, {
      reference: app.table.themes[app.table.reference]?.name ?? '',
      checks: {},
      exempt: [{ selector: '.signal', why: 'must be seen from across the room' }],
      today: '2026-01-01',
      run: 'one',
    });
  });
  const served = app.table.themes.flatMap(({ name }, theme) =>
    app.table.tokens.flatMap(({ properties: [property] }, token) => {
      const color = painters[theme]?.served(token) ?? null;
      return property === undefined || color === null ? [] : [{ theme: name, name: property, value: toCssText(color) }];
    }),
  );
  return { views, findings, served };
}

interface Painter {
  served(token: number): Color | null;
  paint(property: string, source: Source, rule?: string): Paint;
  flat(sources: readonly Source[]): Opaque;
}

function openPainter(app: App, index: TableIndex, theme: number): Painter {
  const stale = app.stale.get(app.table.themes[theme]?.name ?? '');
  const served = (token: number): Color | null => {
    // A token is served as the first stale one on its chain is, else as the files say.
    for (const each of index.chainOf(theme, token)) {
      const color = stale?.get(index.pathOf(each));
      if (color !== undefined) return color;
    }
    return index.colorOf(theme, token);
  };
  const colorOf = (source: Source): Color =>
    source.kind === 'literal' ? parseColor(source.color) : (served(index.tokenAt(source.path)) ?? WHITE);
  return {
    served,
    paint: (property, source, rule) => {
      const written = rule === undefined ? {} : { written: [{ property, value: '', rule }] };
      const color = toCssText(colorOf(source));
      if (source.kind === 'literal') return { property, color, origin: { kind: 'literal' }, ...written };
      const token = index.tokenAt(source.path);
      const step = index.rootOf(theme, token);
      const own = index.table.tokens[token]?.properties[0] ?? '';
      const end = index.table.tokens[step]?.properties[0];
      return {
        property,
        color,
        ...written,
        origin: { kind: 'token', property: own, alpha: 1, ...(end === undefined || end === own ? {} : { step: end }) },
      };
    },
    flat: (sources) => sources.reduce<Opaque>((below, source) => over(colorOf(source), below), WHITE),
  };
}

const GRAPHIC_PROPERTY = { icon: 'fill', border: 'border-top-color', focus: 'outline-color' } as const;

function sampleOf(place: PlaceModel, view: ViewRef, painter: Painter): Sample {
  const ground = place.ground ?? `${place.selector}:ground`;
  const layers: readonly Layer[] = place.on.map((source, at) => ({
    selector: at === place.on.length - 1 ? ground : 'html',
    kind: 'color',
    paint: painter.paint('background-color', source),
    opacity: 1,
  }));
  const back = painter.flat(place.on);
  const common = { view: view.id, selector: place.selector, key: `${place.kind} ${place.selector}`, label: place.selector };
  switch (place.kind) {
    case 'text': {
      const ink = painter.paint('color', place.ink, place.rule);
      const seen = over(withOpacity(parseColor(ink.color), place.opacity), back);
      const contrast = contrastRatio({ ink: seen, background: back });
      return {
        ...common,
        kind: 'text',
        rect: [0, 0, 100, 20],
        text: place.selector,
        color: toCssText(seen),
        background: toCssText(back),
        backgroundSpread: [toCssText(back)],
        contrast: { min: contrast, max: contrast },
        fontSize: place.large ? 28 : 16,
        fontWeight: 400,
        large: place.large,
        exempt: null,
        basis: 'computed',
        ink,
        inkOpacity: place.opacity,
        layers,
      };
    }
    case 'graphic': {
      const paint = painter.paint(GRAPHIC_PROPERTY[place.role], place.ink, place.rule);
      const seen = over(parseColor(paint.color), back);
      const contrast = contrastRatio({ ink: seen, background: back });
      return {
        ...common,
        kind: 'graphic',
        rect: [0, 0, 16, 16],
        role: place.role,
        color: toCssText(seen),
        against: toCssText(back),
        contrast,
        exempt: null,
        paint,
        layers,
        opacity: 1,
      };
    }
    case 'surface': {
      const paint = painter.paint('background-color', place.fill, place.rule);
      const seen = over(parseColor(paint.color), back);
      const { chroma, hueDeg } = toOklch(seen);
      const lightness = cieLightness(seen);
      return {
        ...common,
        kind: 'surface',
        rect: [0, 0, place.widthCssPx, place.heightCssPx],
        color: toCssText(seen),
        around: toCssText(back),
        lightness,
        aroundLightness: cieLightness(back),
        chroma,
        hueDeg,
        area: (place.widthCssPx * place.heightCssPx) / (1280 * 800),
        tone: lightness < 50 ? 'dark' : 'light',
        fill: 'flat',
        role: 'box',
        ...(place.stay === undefined ? {} : { stay: place.stay }),
        ...(place.exempt === true ? { exemptions: [0] } : {}),
        paint,
        opacity: 1,
        layers,
      };
    }
    case 'shadow': {
      const paint = painter.paint('box-shadow', place.fall);
      const peak = 0.7;
      const seen = opaque(over(withOpacity(parseColor(paint.color), peak), back));
      return {
        ...common,
        kind: 'shadow',
        rect: [0, 0, 200, 100],
        property: 'box-shadow',
        color: toCssText(seen),
        beneath: toCssText(back),
        lightnessGain: cieLightness(seen) - cieLightness(back),
        chromaGain: toOklch(seen).chroma - toOklch(back).chroma,
        blur: 12,
        spread: 0,
        offset: [0, 4],
        inset: false,
        index: 0,
        paint,
      };
    }
  }
}
