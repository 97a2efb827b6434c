// Change → recolouring.
import type { Color } from '../../colour/color.ts';
import { BLACK } from '../../colour/color.ts';
import type { CheckId } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import type { Change, UseSite } from './change.ts';
import { looksAlike } from './composite-layers.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { Recoloring } from './recoloring.ts';
import { bothRecolorings } from './recoloring.ts';
import type { World } from '../world.ts';

export function recoloringOf(change: Change, world: World): Recoloring {
  const { index } = world;
  switch (change.kind) {
    case 'value':
      return [change, ...(change.shared ?? []).map((each) => ({ ...each, themes: change.themes }))]
        .map((each) => byTokens(each, world, () => each.color))
        .reduce(bothRecolorings);
    case 'alias':
      return byTokens(change, world, (theme) => index.colorOf(theme, change.target));
    case 'rebuild':
      return rebuild(change, world);
    case 'use':
      return use(change, world);
    case 'indicator':
    case 'outline':
      return {
        touched: change.site.cases,
        colorOf: (one, at) => (at === -1 ? index.colorOf(one.theme, change.token) : undefined),
        redraws: () => true,
      };
    case 'opacity':
      return {
        touched: change.site.cases,
        colorOf: (one, at) => (at === -1 && losesAlpha(one.fore) ? { ...one.fore.color, alpha: 1 } : undefined),
        opacityOf: () => 1,
      };
    case 'alpha':
      return {
        touched: change.site.cases,
        colorOf: (one, at) => (at === -1 && losesAlpha(one.fore) ? withAlpha(one.fore, change.alpha) : undefined),
      };
    case 'add':
      return { touched: [], colorOf: () => undefined };
    case 'unglow':
      return {
        touched: change.site.cases,
        colorOf: (one, at) => (at === -1 ? { ...BLACK, alpha: isHalo(one) ? 0 : one.fore.color.alpha } : undefined),
      };
    case 'filter':
      return {
        touched: change.cases,
        colorOf: () => undefined,
        clears: (one) => one.filters.find(({ selector }) => change.selectors.includes(selector))?.selector,
        // Without the filter a theme looks like the one whose colours it has: what is wrong there is another fault, and that nothing
        // follows a theme which the filter alone makes is the filter's own matter.
        isKnownElsewhere: (one, check, [pair]) =>
          world.familyOf(one).some((each) => {
            const [back] = each.seenBacks;
            if (each.theme === one.theme || pair === undefined || back === undefined) return false;
            const same = looksAlike(pair.fore, each.seenFore) && looksAlike(pair.back, back);
            return same && (check === 'unthemed' || world.faultsOf(each).some((fault) => fault.check === check));
          }),
      };
  }
}

/** It falls nowhere, but lies all around. */
export function isHalo({ place: { sample } }: Case): boolean {
  return sample?.kind === 'shadow' && sample.offset.every((length) => length === 0);
}

function slotOf(one: Case, at: number): PaintRef | undefined {
  return at === -1 ? one.fore : one.back[at]?.ref;
}

/** A token's alpha is its designer's; only what the page takes off it is taken back. */
function losesAlpha(ref: PaintRef): ref is PaintRef & { readonly kind: 'token' } {
  return ref.kind === 'token' && ref.alpha < 1;
}

function withAlpha(ref: PaintRef & { readonly kind: 'token' }, alpha: number): Color {
  return { ...ref.color, alpha: Math.min(1, (ref.color.alpha / ref.alpha) * alpha) };
}

function scaled(color: Color | null, alpha: number): Color | null {
  return color === null ? null : { ...color, alpha: color.alpha * alpha };
}

function byTokens(
  change: { readonly token: number; readonly themes: readonly number[] },
  world: World,
  colorIn: (theme: number) => Color | null,
): Recoloring {
  const reach = world.reachOf(change.token, change.themes);
  return {
    touched: reach.touched,
    colorOf: (one, at) => {
      const ref = slotOf(one, at);
      // A stale page does not follow its files.
      if (ref === undefined || ref.kind === 'stale' || !reach.moves(one, ref)) return undefined;
      return ref.kind === 'token' ? scaled(colorIn(one.theme), ref.alpha) : null;
    },
  };
}

function rebuild(change: { readonly token: number; readonly themes: readonly number[] }, world: World): Recoloring {
  const reach = world.reachOf(change.token, change.themes);
  return {
    touched: reach.touched,
    colorOf: (one, at) => {
      const ref = slotOf(one, at);
      if (ref?.kind !== 'stale' || !reach.moves(one, ref)) return undefined;
      return scaled(world.index.colorOf(one.theme, ref.token), ref.alpha);
    },
  };
}

function use(change: Change & { readonly kind: 'use' }, world: World): Recoloring {
  const { site, token } = change;
  const { index } = world;
  const propertyOf = (each: number): string | undefined => index.table.tokens[each]?.properties[0];
  /** The token is at fault itself, in its own places. */
  const failsElsewhere = (one: Case, check: CheckId): boolean =>
    world.casesOf(one.theme, token).some((id) => {
      const each = world.cases[id];
      const same = each?.fore.kind === 'token' && each.fore.token === token && each.role === one.role;
      return same && world.faultsOf(each).some((fault) => fault.check === check);
    });
  if (site.side === 'fore') {
    return {
      touched: site.cases,
      colorOf: (one, at) => (at === -1 ? index.colorOf(one.theme, token) : undefined),
      paintedBy: () => propertyOf(token),
    };
  }
  const inks = new Map(change.inks.map((ink) => [`${ink.role} ${ink.from}`, ink.token]));
  const inkOf = (one: Case): number | undefined => inks.get(`${one.role} ${refKey(one.fore)}`);
  return {
    touched: site.cases,
    colorOf: (one, at) => {
      if (isOwn(site, one)) return at === -1 ? index.colorOf(one.theme, token) : undefined;
      if (at === one.back.length - 1) return index.colorOf(one.theme, token);
      const ink = at === -1 ? inkOf(one) : undefined;
      // The browser's own colours go by the scheme that the page says it has, as its canvas does (CSS Color Adjust 1 §2.2).
      if (ink === undefined && at === -1 && site.ref.kind === 'system' && one.fore.kind === 'system') return null;
      return ink === undefined ? undefined : index.colorOf(one.theme, ink);
    },
    paintedBy: (one) => {
      const painting = isOwn(site, one) ? token : inkOf(one);
      return painting === undefined ? undefined : propertyOf(painting);
    },
    partOf: (one) => shareOf(isOwn(site, one) ? one.elements : one.grounds, site.elements),
    sharesFault: (one, check) => change.partner && isOwn(site, one) && failsElsewhere(one, check),
  };
}

/** The elements themselves, not what lies on them. */
export function isOwn(site: UseSite & { readonly side: 'surface' }, one: Case): boolean {
  return one.role === 'surface' && shareOf(one.elements, site.elements) > 0;
}

function shareOf(all: ReadonlySet<number>, some: ReadonlySet<number>): number {
  if (all.size === 0) return 0;
  let met = 0;
  for (const each of all) if (some.has(each)) met += 1;
  return met / all.size;
}
