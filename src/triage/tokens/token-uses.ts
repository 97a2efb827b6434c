// Samples of a run → how tokens were met on the pages: in which roles and how often, which inks lay on which surfaces, and the steps
// that were reached through properties no token accounts for (so that what lies between cannot be told).
import type { Standard } from '../../checks/verdict-on-sample.ts';
import { verdictOnSample } from '../../checks/verdict-on-sample.ts';
import { findColor } from '../../colour/parse-color.ts';
import { graphicRole } from '../cases/read-sample.ts';
import type { PageProperty } from '../../samples/captured-view.ts';
import { nameChain, namesInUse } from '../../samples/name-chain.ts';
import type { Layer, Paint } from '../../samples/paint.ts';
import type { Sample } from '../../samples/sample.ts';
import type { ViewRef } from '../../samples/view.ts';
import type { MetPair, TokenPair } from '../../tokens/faults/pair-table.ts';
import { learnPairs } from '../../tokens/faults/pair-table.ts';
import type { Role, TokenUse } from '../../tokens/roles.ts';

export interface MetTokens {
  /** Places in the theme that has most of them; a token met only in a state other than rest counts 1. */
  readonly uses: readonly TokenUse[];
  /** Theme → token → places at rest. */
  readonly placesIn: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Likewise counted in the theme with most places. */
  readonly pairs: readonly TokenPair[];
  /** Tokens at the end of chains whose own property is none of a token. */
  readonly through: ReadonlySet<string>;
}

export interface TokenUses {
  add(view: ViewRef, samples: Iterable<Sample>): void;
  /** What paints boxes that are no samples is used all the same; how often is not told. @param properties of a view */
  addProperties(view: ViewRef, properties: Iterable<PageProperty>): void;
  close(): MetTokens;
}

/** @param tokensOf custom property → its tokens @param standard what the run judged by */
export function openTokenUses(tokensOf: ReadonlyMap<string, readonly string[]>, standard: Standard): TokenUses {
  /** Token and role → theme → places at rest; 0 where only other states have it. */
  const counts = new Map<string, { readonly token: string; readonly role: Role; readonly byTheme: Map<string, number> }>();
  const places = new Map<string, MetPair[]>();
  const through = new Set<string>();

  return {
    add: (view, samples) => {
      const here = places.get(view.theme) ?? [];
      places.set(view.theme, here);
      const atRest = view.state === 'rest';
      for (const sample of samples) {
        if (sample.kind === 'picture') continue;
        const own = sample.kind === 'text' ? sample.ink : sample.paint;
        for (const token of tokensIn(own)) count(token, roleOf(sample), view.theme, atRest);
        // What lies behind is no place of its own (the page's ground, a dot's): it is used all the same.
        for (const { paint } of 'layers' in sample ? sample.layers : []) {
          for (const token of paint === undefined ? [] : tokensIn(paint)) count(token, 'surface', view.theme, false);
        }
        if (!atRest || (sample.kind !== 'text' && sample.kind !== 'graphic')) continue;
        const { required } = verdictOnSample(sample, view, standard);
        if (required !== null) here.push({ ink: soleToken(own), surface: surfaceOf(sample.layers), required });
      }
    },
    addProperties: ({ theme }, properties) => {
      for (const { name, paints } of properties) {
        if (paints === undefined) continue;
        for (const token of tokensBehind([name, paints])) count(token, 'surface', theme, false);
      }
    },
    close: () => ({ uses: usesOf(), placesIn: placesByTheme(), pairs: pairsOf(), through }),
  };

  function count(token: string, role: Role, theme: string, atRest: boolean): void {
    const key = `${role} ${token}`;
    const known = counts.get(key) ?? { token, role, byTheme: new Map<string, number>() };
    counts.set(key, known);
    known.byTheme.set(theme, (known.byTheme.get(theme) ?? 0) + (atRest ? 1 : 0));
  }

  function usesOf(): readonly TokenUse[] {
    return [...counts.values()].map(({ token, role, byTheme }) => ({ token, role, count: Math.max(1, ...byTheme.values()) }));
  }

  function placesByTheme(): MetTokens['placesIn'] {
    const all = new Map<string, Map<string, number>>();
    for (const { token, byTheme } of counts.values()) {
      for (const [theme, n] of byTheme) {
        const here = all.get(theme) ?? new Map<string, number>();
        all.set(theme, here.set(token, (here.get(token) ?? 0) + n));
      }
    }
    return all;
  }

  function pairsOf(): readonly TokenPair[] {
    const all = [...places].flatMap(([theme, met]) => learnPairs(met).map((pair) => ({ theme, pair })));
    const most = new Map<string, TokenPair & { readonly absentIn: readonly string[] }>();
    for (const { theme, pair } of all) {
      const key = JSON.stringify([pair.ink, pair.surface]);
      const known = most.get(key) ?? { ...pair, absentIn: [...places.keys()] };
      most.set(key, {
        ...pair,
        uses: Math.max(known.uses, pair.uses),
        required: Math.max(known.required, pair.required),
        absentIn: known.absentIn.filter((each) => each !== theme),
      });
    }
    const pairs = [...most.values()].map(({ absentIn, ...pair }) => (absentIn.length === 0 ? pair : { ...pair, absentIn }));
    return pairs.sort((a, b) => b.uses - a.uses || (a.ink + a.surface < b.ink + b.surface ? -1 : 1));
  }

  function tokensIn({ origin }: Paint): readonly string[] {
    if (origin.kind === 'inferred') return [origin.token];
    if (origin.kind === 'derived') return origin.properties.flatMap((property) => tokensOf.get(property) ?? []);
    if (origin.kind !== 'token' || origin.fallback === true) return [];
    return tokensBehind(nameChain(origin));
  }

  /** @param chain custom properties, outermost first: the first that is a token's counts */
  function tokensBehind([property = '', ...behind]: readonly string[]): readonly string[] {
    const own = tokensOf.get(property) ?? [];
    if (own.length > 0) return own;
    const ends = behind.map((name) => tokensOf.get(name) ?? []);
    const found = ends.find((tokens) => tokens.length > 0) ?? [];
    if (found === ends.at(-1)) for (const token of found) through.add(token);
    return found;
  }

  /** The token a colour is, unchanged; null where it is mixed, faded, or not known. */
  function soleToken({ origin }: Paint): string | null {
    if (origin.kind === 'inferred') return origin.token;
    if (origin.kind !== 'token' || origin.fallback === true || origin.alpha !== 1) return null;
    return namesInUse(origin).flatMap((name) => tokensOf.get(name) ?? [])[0] ?? null;
  }

  /** What is seen behind: the topmost layer, if it hides what is below. */
  function surfaceOf(layers: readonly Layer[]): string | null {
    const top = layers.at(-1);
    if (top?.kind !== 'color' || top.paint === undefined || top.opacity < 1 || top.blend !== undefined) return null;
    return findColor(top.paint.color)?.alpha === 1 ? soleToken(top.paint) : null;
  }
}

function roleOf(sample: Exclude<Sample, { readonly kind: 'picture' }>): Role {
  switch (sample.kind) {
    case 'text':
      return 'ink';
    case 'surface':
      return 'surface';
    case 'shadow':
      return 'shadow';
    case 'graphic':
      return ROLE_OF_GRAPHIC[graphicRole(sample)];
  }
}

const ROLE_OF_GRAPHIC = { glyph: 'glyph', face: 'surface', edge: 'edge', ring: 'edge' } as const;
