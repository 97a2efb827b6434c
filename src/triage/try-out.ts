// A cause's changes → what to put on the live page to see whether they keep what was promised: colours for custom properties, and rules
// for elements. And the comparison of promise and outcome.
import type { Color } from '../colour/color.ts';
import { toCssText } from '../colour/format-color.ts';
import type { ComponentSwap, Finding } from '../samples/finding.ts';
import type { ViewRef } from '../samples/view.ts';
import type { Ground } from './propose/candidate.ts';
import type { Case } from './cases/case.ts';
import type { ExplainedCause } from './tell/causes.ts';
import type { Change } from './recolor/change.ts';
import { alphaStyle } from './tell/alpha-style.ts';
import type { Outcome } from './choose/evaluate.ts';
import { evaluate } from './choose/evaluate.ts';
import { mendedGround } from './choose/mended-ground.ts';
import { isOwn, recoloringOf } from './recolor/make-recoloring.ts';
import { paintOf } from './tell/chain.ts';
import { refKey } from './cases/paint-ref.ts';
import { bothRecolorings } from './recolor/recoloring.ts';
import { valueInUse } from './tell/naming.ts';
import { shadowStyle } from './tell/repair.ts';
import type { Places } from './tried-places.ts';
import { placesOf, STEP, treeOf } from './tried-places.ts';
import type { World } from './world.ts';

/** A colour for a custom property, everywhere in the page; what else its value holds (lengths of a shadow) stays. */
export interface WornProperty {
  readonly name: string;
  readonly color: string;
}

/** A rule for elements. `within`: selector of the shadow host or frame that holds them, empty for the page itself. */
export interface WornRule {
  readonly within: string;
  readonly css: string;
}

export interface Wear {
  readonly properties: readonly WornProperty[];
  readonly rules: readonly WornRule[];
}

/** A cause's repair, ready to be put on pages. */
export interface TryOut {
  /** @returns null where nothing of it shows in the view, and for what cannot be put on a page (a token that does not exist yet) */
  readonly wearFor: (view: ViewRef) => Wear | null;
  readonly forecast: Forecast;
}

/** What the cause's repair comes after is worn beneath it. */
export function openTryOut(ground: Ground, cause: ExplainedCause, findings: readonly Finding[]): TryOut {
  const stages = stagesOf(ground, cause);
  return {
    wearFor: (view) => {
      const worn = stages.map((stage) => ownWear(stage.ground, stage.cause, findings, view));
      const properties = worn.flatMap((each) => each.properties);
      const rules = worn.flatMap((each) => each.rules);
      return properties.length === 0 && rules.length === 0 ? null : { properties, rules };
    },
    forecast: forecastOf(stages, findings),
  };
}

function ownWear({ world }: Ground, cause: ExplainedCause, findings: readonly Finding[], view: ViewRef): Wear {
  const theme = world.index.themeAt(view.theme);
  return {
    properties: cause.changes.flatMap((change) => propertiesOf(world, change, theme)),
    rules: cause.changes.flatMap((change) => {
      // What a declaration takes it takes in every theme that has it, also where nothing is found there.
      const isEverywhere = change.kind === 'use' && change.site.cases.some((id) => world.cases[id]?.theme === theme);
      const isHere = (at: number): boolean => {
        const finding = findings[at];
        if (finding === undefined || !isEverywhere) return finding?.view === view.id;
        return finding.page === view.page && finding.state === view.state && finding.viewport === view.viewport;
      };
      const places = placesOf(world, cause.findings.filter(isHere), findings);
      // Each of several changes where its own findings are.
      const cases = 'site' in change ? change.site.cases.flatMap((id) => world.cases[id] ?? []) : [];
      const isOneOfSeveral = cause.changes.length > 1 && 'site' in change && change.site.side === 'fore';
      return rulesOf(world, change, theme, isOneOfSeveral ? { ...places, selectors: places.among(cases) } : places);
    }),
  };
}

/** Every token that hangs on the changed one: a build may have written their values out. */
function propertiesOf(world: World, change: Change, theme: number): readonly WornProperty[] {
  const { index } = world;
  if (change.kind !== 'value' && change.kind !== 'alias' && change.kind !== 'rebuild') return [];
  if (!change.themes.includes(theme)) return [];
  const colorOf = (token: number): Color | null => {
    if (change.kind === 'value') return change.color;
    return change.kind === 'alias' ? index.colorOf(theme, change.target) : index.colorOf(theme, token);
  };
  return index.dependentsOf(theme, change.token).flatMap((token) => {
    const color = colorOf(token);
    if (color === null || index.table.tokens[token]?.isBare === true) return [];
    return (index.table.tokens[token]?.properties ?? []).map((name) => ({ name, color: toCssText(color) }));
  });
}

function rulesOf(world: World, change: Change, theme: number, places: Places): readonly WornRule[] {
  const { selectors } = places;
  switch (change.kind) {
    case 'value':
      return change.themes.includes(theme) ? (change.components ?? []).map(componentRule) : [];
    case 'alias':
    case 'rebuild':
    case 'add':
      return [];
    case 'filter':
      return [{ within: '', css: `${change.selector}{filter:none!important}` }];
    case 'indicator':
      return selectors.map((selector) => ruleFor(selector, `outline:2px solid ${valueInUse(world.index, change.token)}`));
    case 'outline':
      // Drawn within, so that nothing moves.
      return selectors.map((selector) =>
        ruleFor(selector, `outline:1px solid ${valueInUse(world.index, change.token)};outline-offset:-1px`),
      );
    case 'opacity':
      return places.fading().map((selector) => ruleFor(selector, 'opacity:1'));
    case 'alpha':
      return alphaRules(world, change, theme, selectors);
    case 'unglow': {
      const [shown] = change.site.cases.flatMap((id) => world.cases[id] ?? []).filter((one) => one.theme === theme);
      if (shown === undefined) return [];
      const { property, to } = shadowStyle(shown);
      return [
        ...places.alike([shown]).map((rule) => alikeFor(rule, `${property}:${to}`)),
        ...selectors.map((selector) => ruleFor(selector, `${property}:${to}`)),
      ];
    }
    case 'use':
      return [...schemeRules(world, change, theme), ...useRules(world, change, places)];
  }
}

/** What the browser paints by itself goes by the scheme that the page says it has: it is to be that of the theme. */
function schemeRules({ index }: World, { site }: Change & { readonly kind: 'use' }, theme: number): readonly WornRule[] {
  const tone = index.table.themes[theme]?.tone;
  return site.ref.kind !== 'system' || site.side === 'fore' || tone === undefined
    ? []
    : [{ within: '', css: `:root{color-scheme:${tone}!important}` }];
}

/** Wherever the page may declare it. */
function componentRule({ property, to }: ComponentSwap): WornRule {
  return { within: '', css: `*,::before,::after{${property}:${to}!important}` };
}

function alphaRules(
  { cases, index }: World,
  { site, alpha }: Change & { readonly kind: 'alpha' },
  theme: number,
  selectors: readonly string[],
): readonly WornRule[] {
  const shown = site.cases.flatMap((id) => cases[id] ?? []).find((one) => one.theme === theme);
  if (shown === undefined) return [];
  const { property, to } = alphaStyle(index, shown, alpha);
  return selectors.map((selector) => ruleFor(selector, `${property}:${to}`));
}

function useRules(
  world: World,
  change: Change & { readonly kind: 'use' },
  { selectors, among, alike }: Places,
): readonly WornRule[] {
  const { site, token, inks } = change;
  const cases = site.cases.flatMap((id) => world.cases[id] ?? []);
  const own = site.side === 'fore' ? cases : cases.filter((one) => isOwn(site, one));
  const property = own[0] === undefined ? null : cssPropertyOf(own[0]);
  if (property === null) return [];
  const value = valueInUse(world.index, token);
  // A surface is painted where it is itself found fault with, not also on what lies on it.
  const surfaces = site.side === 'fore' ? [] : among(own);
  const painted = surfaces.length > 0 ? surfaces : selectors;
  const alikes = site.side === 'surface' ? alike(own) : [];
  const rules = painted.flatMap((selector) => [
    ruleFor(selector, `${property}:${value}`),
    // The paint of a drawing stands on its shapes.
    ...(property === 'stroke' || property === 'fill' ? [ruleFor(`${selector} [${property}]`, `${property}:${value}`)] : []),
  ]);
  const upon = inks.flatMap((ink) => {
    const drawn = cases.filter((one) => one.role === ink.role && refKey(one.fore) === ink.from);
    const inkProperty = drawn[0] === undefined ? null : cssPropertyOf(drawn[0]);
    return inkProperty === null ? [] : [{ drawn, declaration: `${inkProperty}:${valueInUse(world.index, ink.token)}` }];
  });
  return [
    ...alikes.map((rule) => alikeFor(rule, `${property}:${value}`)),
    ...rules,
    ...upon.flatMap(({ declaration }) =>
      [...painted, ...alikes].map((selector) => ruleFor(`${selector}, ${selector} *`, declaration)),
    ),
    // Where several inks lie on a surface, the last would be all of them.
    ...(upon.length < 2 ? [] : upon.flatMap(({ drawn, declaration }) => among(drawn).map((at) => ruleFor(at, declaration)))),
  ];
}

/** A box is told by its upper edge where all of its edges are alike: they are changed together. */
function cssPropertyOf(one: Case): string | null {
  const property = paintOf(one)?.property ?? null;
  return property === 'border-top-color' ? 'border-color' : property;
}

function ruleFor(selector: string, declaration: string): WornRule {
  return alikeFor(selector, `${declaration}!important`);
}

/** Comes after the page's own rule of that selector and takes its place in the cascade; what overrides that overrides this. */
function alikeFor(selector: string, declaration: string): WornRule {
  const tree = treeOf(selector);
  return { within: tree.slice(0, -STEP.length), css: `${selector.slice(tree.length)}{${declaration}}` };
}

/** What evaluation promises of a cause's changes. */
export interface Forecast {
  /** Ids of findings that would be gone. */
  readonly mended: readonly string[];
  /** Passing places that would fail. */
  readonly broken: number;
}

function forecastOf(stages: readonly Stage[], findings: readonly Finding[]): Forecast {
  const outcomes = stages.map(({ outcome }) => outcome);
  const mended = stages.flatMap(({ cause, outcome }) => {
    const own = cause.changes.every(isWornOnFindings) ? new Set(cause.findings) : null;
    return outcome.mended.flatMap((fault) => fault.findings.filter((at) => own === null || own.has(at)));
  });
  const ids = new Set(mended.flatMap((at) => findings[at]?.id ?? []));
  return {
    mended: [...ids].toSorted(),
    broken: outcomes.flatMap(({ broken }) => broken).reduce((sum, each) => sum + each.places, 0),
  };
}

/** Put on where the cause's own findings are, and nowhere else: what another rule does alike is another cause. */
function isWornOnFindings(change: Change): boolean {
  if (change.kind === 'use') return change.site.side === 'fore';
  return change.kind === 'alpha' || change.kind === 'opacity' || change.kind === 'indicator' || change.kind === 'outline';
}

interface Stage {
  readonly cause: ExplainedCause;
  /** As the stages before leave it. */
  readonly ground: Ground;
  readonly outcome: Outcome;
}

/** What the cause comes after, and then the cause: each upon what was mended before. */
function stagesOf(ground: Ground, cause: ExplainedCause): readonly Stage[] {
  let here = ground;
  const stages: Stage[] = [];
  for (const each of [...(cause.after ?? []), cause]) {
    const { world } = here;
    const parts = each.changes.map((change) => ({ change, recoloring: recoloringOf(change, world) }));
    if (parts.length === 0) continue;
    const outcome = evaluate(world, parts.map((part) => part.recoloring).reduce(bothRecolorings));
    stages.push({ cause: each, ground: here, outcome });
    if (each !== cause) here = mendedGround(here, parts, new Set(outcome.mended));
  }
  return stages;
}

export interface TryOutcome {
  readonly predicted: { readonly mended: number; readonly broken: number };
  readonly actual: { readonly mended: number; readonly broken: number };
  /** Promised, and still there: as they are with the change. */
  readonly stayed: readonly Finding[];
  /** New where nothing was wrong. */
  readonly appeared: readonly Finding[];
}

/** @param before @param after findings of the views that were rendered again, without and with the change */
export function compareTry(
  forecast: Forecast,
  views: ReadonlySet<string>,
  runs: { readonly before: readonly Finding[]; readonly after: readonly Finding[] },
): TryOutcome {
  const before = new Map(runs.before.filter((finding) => views.has(finding.view)).map((finding) => [finding.id, finding]));
  const after = new Map(runs.after.filter((finding) => views.has(finding.view)).map((finding) => [finding.id, finding]));
  const promised = forecast.mended.flatMap((id) => before.get(id) ?? []);
  const appeared = [...after.values()].filter(({ id }) => !before.has(id));
  const gone = [...before.keys()].filter((id) => !after.has(id));
  return {
    predicted: { mended: promised.length, broken: forecast.broken },
    actual: { mended: gone.length, broken: appeared.length },
    stayed: promised.flatMap(({ id }) => after.get(id) ?? []),
    appeared,
  };
}
