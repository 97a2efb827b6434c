// Changes → the repair of a cause, in the words that are shown and exported.
import { BLACK } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { Ask, Repair, RepairPart, StyleSwap } from '../../samples/finding.ts';
import type { Ground, Part } from '../propose/candidate.ts';
import type { Case } from '../cases/case.ts';
import type { Change } from '../recolor/change.ts';
import { isHalo } from '../recolor/make-recoloring.ts';
import type { Demand } from '../propose/gap.ts';
import { demandsOf } from '../propose/gap.ts';
import { isRule } from '../cases/own-rules.ts';
import { alphaStyle } from './alpha-style.ts';
import { placeName } from './readable-place.ts';
import { listed, nameOfColor, nameOfRef, themeNames, themesOfChange, WHAT, nameInUse, valueInUse } from './naming.ts';
import { refKey } from '../cases/paint-ref.ts';
import { lastPart, uncounted } from '../cases/selectors.ts';
import { groundOf } from '../cases/usage.ts';
import type { World } from '../world.ts';

export interface RepairOf {
  readonly parts: readonly Part[];
  /** As it is where the repair is made: with all mended that comes before. */
  readonly upon: World;
  /** The case to show. */
  readonly shown: Case;
  /** Themes of the faults. */
  readonly themes: readonly number[];
  readonly fixes: number;
  readonly breaks: number;
  /** What the page calls the place, e.g. the selector of the rule that paints it. */
  readonly place: string;
  /** Rules that each set a colour of their own for the place; none where there is one colour. */
  readonly variants: readonly VariantName[];
}

export interface VariantName {
  readonly change: Change;
  /** The rule. */
  readonly of: string;
  readonly from: string;
  readonly to: string;
}

export function repairOf(ground: Ground, of: RepairOf): Repair | null {
  const [first, ...rest] = of.parts;
  if (first === undefined) return null;
  const { index } = ground.world;
  const told = partOf(ground, first.change, of);
  // What a rule takes alike on several surfaces is one thing to do.
  const [second] = rest.map(({ change }) => partOf(ground, change, of)).filter((part) => !isSame(part, told));
  const inks = of.parts.flatMap(({ change }) =>
    inksOf(ground, change, of.variants.find((each) => each.change === change)?.of ?? of.place),
  );
  const [main, ...others] = of.variants.map(({ change: _, ...names }) => ({ change: 'use' as const, ...names }));
  if (main !== undefined) {
    return { ...main, also: [...others, ...inks], themes: themeNames(index, of.themes), fixes: of.fixes, breaks: of.breaks };
  }
  const also = [...(second === undefined ? [] : [second]), ...inks];
  return {
    ...told,
    ...(also.length === 0 ? {} : { also }),
    themes: themeNames(index, shownThemes(ground, first, of.themes)),
    fixes: of.fixes,
    breaks: of.breaks,
  };
}

function isSame(one: RepairPart, other: RepairPart): boolean {
  return one.change === other.change && one.of === other.of && one.from === other.from && one.to === other.to;
}

/** Of the themes in which a change holds those where something painted depends on it. */
function shownThemes(ground: Ground, { change, recoloring }: Part, failing: readonly number[]): readonly number[] {
  const themes = themesOfChange(change);
  if (themes === null) return failing;
  const painted = new Set(recoloring.touched.map((id) => ground.world.cases[id]?.theme));
  const shown = themes.filter((theme) => painted.has(theme));
  const isWritten = change.kind === 'value' || change.kind === 'alias';
  const told = (shown.length === 0 ? themes : shown).filter((theme) => !isWritten || !isTwin(ground, theme, themes));
  return told.length === 0 ? themes : told;
}

/** It has no definition of its own: a theme that a filter makes of the reference. What changes there changes here, and nobody writes it twice. */
function isTwin({ world: { index } }: Ground, theme: number, themes: readonly number[]): boolean {
  const { reference, tokens } = index.table;
  if (theme === reference || !themes.includes(reference)) return false;
  return tokens.every(
    (_, token) => index.definitionOf(theme, token) === null || index.governedBy(theme, token).includes(reference),
  );
}

/** Nothing that a repair changes is left out of it. */
function inksOf({ world }: Ground, change: Change, place: string): readonly RepairPart[] {
  if (change.kind !== 'use') return [];
  const cases = change.site.cases.flatMap((id) => world.cases[id] ?? []);
  return change.inks.map((ink) => {
    const drawn = cases.find((one) => one.role === ink.role && refKey(one.fore) === ink.from);
    const written = drawn?.wrote.find(isRule)?.rule;
    // Where no rule was looked up for a surface, what it is tells it from the one it lies on.
    const kind = ink.role === 'surface' ? kindOf(drawn?.place.sample?.selector) : undefined;
    const rule = drawn?.fore.kind === 'literal' ? undefined : (written ?? kind);
    const what = WHAT[ink.role];
    return {
      change: 'use',
      of: rule === undefined ? `${what} on ${place}` : `${what} of ${rule} on ${place}`,
      drawn: { what, ...(rule === undefined ? {} : { rule }), place },
      from: drawn === undefined ? '' : nameOfRef(world.index, drawn.fore),
      to: nameInUse(world.index, ink.token),
    };
  });
}

/** `main > article:nth-of-type(2) > p > code` → `code`; an id is that of one place, and others may be meant. */
function kindOf(selector = ''): string | undefined {
  const last = uncounted(lastPart(selector));
  return last === '' || last.includes('#') ? undefined : last;
}

function partOf(ground: Ground, change: Change, { shown, place, upon }: RepairOf): RepairPart {
  const { index } = ground.world;
  switch (change.kind) {
    case 'value': {
      const now = index.colorOf(change.themes[0] ?? -1, change.token);
      return {
        change: 'value',
        of: index.pathOf(change.token),
        from: now === null ? '' : toCssText(now),
        to: toCssText(change.color),
        ...(change.components === undefined ? {} : { components: change.components }),
      };
    }
    case 'alias': {
      const now = index.definitionOf(change.themes[0] ?? -1, change.token);
      const from = now === null ? '' : now.kind === 'alias' ? now.target : toCssText(now.color);
      return { change: 'alias', of: index.pathOf(change.token), from, to: index.pathOf(change.target) };
    }
    case 'use':
      return { change: 'use', of: place, from: nameOfRef(index, change.site.ref), to: nameInUse(index, change.token) };
    case 'indicator':
      return styleOf(place, {
        property: 'outline',
        from: 'none',
        to: `2px solid ${valueInUse(index, change.token)}`,
      });
    case 'outline':
      return styleOf(place, { property: 'border', from: 'none', to: `1px solid ${valueInUse(index, change.token)}` });
    case 'opacity':
      return styleOf(place, { property: 'opacity', from: String(opacityOf(shown)), to: '1' });
    case 'alpha':
      return styleOf(place, alphaStyle(index, shown, change.alpha));
    case 'unglow':
      return styleOf(place, shadowStyle(shown));
    case 'filter':
      return styleOf(placeName(change.written, change.selector), { property: 'filter', from: change.filter, to: 'none' });
    case 'add': {
      const surface = shown.backFixed ? -1 : groundOf(shown);
      const asks = asksOf(ground, demandsOf(upon, casesOf(upon, change.cases)));
      return {
        change: 'add',
        of: surface >= 0 ? index.pathOf(surface) : place,
        from: nameOfRef(index, shown.fore),
        to: asked(asks),
        asks,
      };
    }
    case 'rebuild': {
      const theme = change.themes[0] ?? -1;
      const definition = index.definitionOf(theme, change.token);
      return {
        change: 'rebuild',
        of: index.table.tokens[change.token]?.properties[0] ?? index.pathOf(change.token),
        from: nameOfColor(index, theme, servedOf(shown, change.token)),
        to: definition === null ? '' : definition.kind === 'alias' ? definition.target : toCssText(definition.color),
      };
    }
  }
}

function styleOf(of: string, style: StyleSwap): RepairPart {
  const { property, from, to } = style;
  return { change: 'style', of, from: `${property}: ${from}`, to: `${property}: ${to}`, style };
}

function casesOf({ cases }: World, ids: readonly number[]): readonly Case[] {
  return ids.flatMap((id) => cases[id] ?? []);
}

export function opacityOf(one: Case): number {
  const factor = one.foreOpacity * (one.fore.kind === 'token' ? one.fore.alpha : 1);
  return Number(factor.toFixed(3));
}

/** The declaration that draws a shadow, and the same in black; a halo is none then. */
export function shadowStyle(one: Case): StyleSwap {
  const {
    place: { sample },
    fore,
  } = one;
  const black = toCssText({ ...BLACK, alpha: fore.color.alpha });
  if (sample?.kind !== 'shadow') return { property: 'box-shadow', from: toCssText(fore.color), to: black };
  const [x, y] = sample.offset;
  const lengths = [x, y, sample.blur, ...(sample.property === 'box-shadow' ? [sample.spread] : [])].map((length) =>
    length === 0 ? '0' : `${length}px`,
  );
  const shadow = (color: string): string => `${sample.inset ? 'inset ' : ''}${lengths.join(' ')} ${color}`;
  const isFilter = sample.property === 'drop-shadow';
  const drawn = (color: string): string => (isFilter ? `drop-shadow(${shadow(color)})` : shadow(color));
  return {
    property: isFilter ? 'filter' : sample.property,
    from: drawn(toCssText(fore.color)),
    to: isHalo(one) ? 'none' : drawn(black),
  };
}

function servedOf(shown: Case, token: number): Case['fore']['color'] {
  const stale = [shown.fore, ...shown.back.map((layer) => layer.ref)].find((ref) => ref.kind === 'stale' && ref.token === token);
  return (stale ?? shown.fore).color;
}

function asksOf({ world }: Ground, demands: readonly Demand[]): readonly Ask[] {
  return demands.map(({ theme, on, contrast, suggestion }) => ({
    theme: world.index.table.themes[theme]?.name ?? '',
    on: toCssText(on),
    contrast,
    ...(suggestion === null ? {} : { suggestion: toCssText(suggestion) }),
  }));
}

/** "4.5 on #8197a1 in noon (such as #151d20) and 4.5 on …" */
function asked(asks: readonly Ask[]): string {
  const groups = new Map<string, { readonly ask: Ask; readonly themes: string[] }>();
  for (const ask of asks) {
    const key = `${ask.contrast} ${ask.on} ${ask.suggestion ?? ''}`;
    const group = groups.get(key) ?? { ask, themes: [] };
    group.themes.push(ask.theme);
    groups.set(key, group);
  }
  const said = [...groups.values()].map(({ ask: { contrast, on, suggestion }, themes }) => {
    const would = suggestion === undefined ? 'where no colour reaches it' : `such as ${suggestion}`;
    return `${contrast} on ${on} in ${listed(themes)} (${would})`;
  });
  return listed(said);
}
