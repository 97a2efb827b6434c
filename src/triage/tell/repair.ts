// Changes → the repair of a cause, in the words of the contract.
import { toCssText } from '../../colour/format-color.ts';
import type { Repair, RepairPart } from '../../samples/finding.ts';
import type { Ground, Part } from '../propose/candidate.ts';
import type { Case } from '../cases/case.ts';
import type { Change } from '../recolor/change.ts';
import type { Demand } from '../propose/gap.ts';
import { demandsOf } from '../propose/gap.ts';
import { listed, nameOfColor, nameOfRef, themeNames, themesOfChange, WHAT } from './naming.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import { groundOf } from '../cases/usage.ts';

export interface RepairOf {
  readonly parts: readonly Part[];
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

export interface VariantName extends RepairPart {
  readonly change: Change;
}

export function repairOf(ground: Ground, of: RepairOf): Repair | null {
  const [first, second] = of.parts;
  if (first === undefined) return null;
  const { index } = ground.world;
  const one = stateOf(ground, first.change, of);
  const two = second === undefined ? null : stateOf(ground, second.change, of);
  const inks = of.parts.flatMap(({ change }) =>
    inksOf(ground, change, of.variants.find((each) => each.change === change)?.of ?? of.place),
  );
  const [main, ...others] = of.variants.map(({ change: _, ...part }) => part);
  if (main !== undefined) {
    return {
      change: 'use',
      ...main,
      also: [...others, ...inks],
      themes: themeNames(index, of.themes),
      fixes: of.fixes,
      breaks: of.breaks,
    };
  }
  const also = inks;
  const both = (a: string, b: string | undefined): string => (b === undefined ? a : `${a} + ${b}`);
  return {
    change: one.change,
    of: both(one.of, two?.of),
    from: both(one.from, two?.from),
    to: both(one.to, two?.to),
    ...(also.length === 0 ? {} : { also }),
    themes: themeNames(index, shownThemes(ground, first, of.themes)),
    fixes: of.fixes,
    breaks: of.breaks,
  };
}

/** Of the themes in which a change holds those where something painted depends on it. */
function shownThemes(ground: Ground, { change, recoloring }: Part, failing: readonly number[]): readonly number[] {
  const themes = themesOfChange(change);
  if (themes === null) return failing;
  const painted = new Set(recoloring.touched.map((id) => ground.world.cases[id]?.theme));
  const shown = themes.filter((theme) => painted.has(theme));
  return shown.length === 0 ? themes : shown;
}

/** Nothing that a repair changes is left out of it. */
function inksOf({ world }: Ground, change: Change, place: string): readonly RepairPart[] {
  if (change.kind !== 'use') return [];
  const cases = change.site.cases.flatMap((id) => world.cases[id] ?? []);
  return change.inks.map((ink) => {
    const drawn = cases.find((one) => one.role === ink.role && refKey(one.fore) === ink.from);
    const rule = drawn?.wrote.find(({ rule: each }) => each !== 'browser' && each !== 'style attribute')?.rule;
    return {
      of:
        rule === undefined || drawn?.fore.kind === 'literal'
          ? `${WHAT[ink.role]} on ${place}`
          : `${WHAT[ink.role]} of ${rule} on ${place}`,
      from: drawn === undefined ? '' : nameOfRef(world.index, drawn.fore),
      to: world.index.pathOf(ink.token),
    };
  });
}

type State = Pick<Repair, 'change' | 'of' | 'from' | 'to'>;

function stateOf(ground: Ground, change: Change, { shown, place }: RepairOf): State {
  const { index } = ground.world;
  switch (change.kind) {
    case 'value': {
      const now = index.colorOf(change.themes[0] ?? -1, change.token);
      return {
        change: 'value',
        of: index.pathOf(change.token),
        from: now === null ? '' : toCssText(now),
        to: toCssText(change.color),
      };
    }
    case 'alias': {
      const now = index.definitionOf(change.themes[0] ?? -1, change.token);
      const from = now === null ? '' : now.kind === 'alias' ? now.target : toCssText(now.color);
      return { change: 'alias', of: index.pathOf(change.token), from, to: index.pathOf(change.target) };
    }
    case 'use':
      return { change: 'use', of: place, from: nameOfRef(index, change.site.ref), to: index.pathOf(change.token) };
    case 'indicator':
      return {
        change: 'style',
        of: place,
        from: 'outline: none',
        to: `outline: 2px solid var(${propertyOf(index, change.token)})`,
      };
    case 'opacity':
      return { change: 'style', of: place, from: `opacity: ${opacityOf(shown)}`, to: 'opacity: 1' };
    case 'remove':
      return { change: 'style', of: place, ...shadowTexts(shown) };
    case 'filter':
      return { change: 'style', of: change.selector, from: `filter: ${change.filter}`, to: 'filter: none' };
    case 'add': {
      const surface = shown.backFixed ? -1 : groundOf(shown);
      return {
        change: 'add',
        of: surface >= 0 ? index.pathOf(surface) : place,
        from: nameOfRef(index, shown.fore),
        to: demanded(ground, demandsOf(ground, casesOf(ground, change.cases))),
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

function casesOf(ground: Ground, ids: readonly number[]): readonly Case[] {
  return ids.flatMap((id) => ground.world.cases[id] ?? []);
}

export function opacityOf(one: Case): number {
  const factor = one.foreOpacity * (one.fore.kind === 'token' ? one.fore.alpha : 1);
  return Number(factor.toFixed(3));
}

/** The declaration that draws a shadow, and what it would be without. */
function shadowTexts(shown: Case): { readonly from: string; readonly to: string } {
  const { sample } = shown.place;
  if (sample?.kind !== 'shadow') return { from: toCssText(shown.fore.color), to: 'none' };
  const [x, y] = sample.offset;
  const lengths = [x, y, sample.blur, ...(sample.property === 'box-shadow' ? [sample.spread] : [])].map((length) =>
    length === 0 ? '0' : `${length}px`,
  );
  const shadow = `${sample.inset ? 'inset ' : ''}${lengths.join(' ')} ${toCssText(shown.fore.color)}`;
  return sample.property === 'drop-shadow'
    ? { from: `filter: drop-shadow(${shadow})`, to: 'filter: none' }
    : { from: `${sample.property}: ${shadow}`, to: `${sample.property}: none` };
}

export function propertyOf(index: TableIndex, token: number): string {
  return index.table.tokens[token]?.properties[0] ?? index.pathOf(token);
}

function servedOf(shown: Case, token: number): Case['fore']['color'] {
  const stale = [shown.fore, ...shown.back.map((layer) => layer.ref)].find((ref) => ref.kind === 'stale' && ref.token === token);
  return (stale ?? shown.fore).color;
}

/** "4.5 on #8197a1 in noon (such as #151d20) and 4.5 on …" */
export function demanded(ground: Ground, demands: readonly Demand[]): string {
  const names = ground.world.index.table.themes.map((theme) => theme.name);
  const groups = new Map<string, string[]>();
  for (const { theme, on, contrast, suggestion } of demands) {
    const would = suggestion === null ? 'where no colour reaches it' : `such as ${toCssText(suggestion)}`;
    const text = `${contrast} on ${toCssText(on)}|(${would})`;
    const known = groups.get(text);
    if (known === undefined) groups.set(text, [names[theme] ?? '']);
    else known.push(names[theme] ?? '');
  }
  return listed([...groups].map(([text, themes]) => text.replace('|', ` in ${listed(themes)} `)));
}
