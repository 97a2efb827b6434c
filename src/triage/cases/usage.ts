// How the page uses its tokens where nothing is wrong: as what, and on what. The samples say it better than any name.
import { TRANSPARENT } from '../../colour/color.ts';
import { toCssText } from '../../colour/format-color.ts';
import type { Case, Role } from './case.ts';
import { appendTo } from '../counting.ts';
import { tokensOf } from './paint-ref.ts';
import { isCalledFor, mayServeAs, saysOtherInk } from './name-words.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { World } from '../world.ts';
import { weightOf } from '../world.ts';
import { numberedSteps } from '../tokens/numbered-steps.ts';

export interface TokenUsage {
  /** Weight of a token's uses as `role`, by token. */
  as(role: Role): ReadonlyMap<number, number>;
  /** The same, counting only uses on a surface painted with `ground`. */
  on(role: Role, ground: number): ReadonlyMap<number, number>;
  /** On how many surface tokens it is used as `role`. */
  groundsOf(role: Role, token: number): number;
  /** Surfaces that an ink belongs to by name and use. */
  partnersOf(ink: number): readonly number[];
  /** Whether the token is used as something else; of an unused one, whether the others of its group are. */
  isStrangeAs(role: Role, token: number): boolean;
  /**
   * Tokens with a colour that no page uses and no token refers to: defined, and not put to use yet; for icons also those of words, and the
   * other way round. Left out are ramp steps, exempt ones, and those whose name says that they are for something else.
   */
  idleAs(role: Role): readonly number[];
}

/** A token is meant for what at least this share of its uses is (ours). */
const STRANGE = 0.2;
/** Who fails says nothing of what a token is meant for; where as many rules take it for the same, and its name does not say otherwise, that is no mistake of theirs (ours). Where its name says so one will do. */
const RULES_AGREE = 2;
const NONE: ReadonlyMap<number, number> = new Map();

/** @param exempt tokens that are as if they were used nowhere */
export function openUsage(world: World, exempt: ReadonlySet<number>): TokenUsage {
  const roles = new Map<Role, Map<number, number>>();
  const meant = new Map<Role, Map<number, number>>();
  const onGround = new Map<string, Map<number, number>>();
  const grounds = new Map<string, Set<number>>();
  const totals = new Map<number, number>();
  const failing = new Map<string, { readonly rules: Set<string>; weight: number }>();
  const isOffered = openOffer(world.index);
  for (const one of world.cases) {
    if (one.fore.kind !== 'token' && one.fore.kind !== 'stale') continue;
    const { token } = one.fore;
    if (exempt.has(token)) continue;
    const weight = weightOf(one.samples);
    if (one.findings.size > 0) {
      if (one.theme === world.index.table.reference) note(failing, `${one.role} ${token}`, one, weight);
      continue;
    }
    const ground = groundOf(one);
    if (isOffered(token, one.fore.alpha)) {
      add(slot(roles, one.role), token, weight);
      if (ground >= 0) add(slot(onGround, `${one.role} ${ground}`), token, weight);
    }
    // What the reference theme shows without fault is what its designers meant.
    if (one.theme === world.index.table.reference) {
      add(slot(meant, one.role), token, weight);
      add(totals, token, weight);
    }
    if (ground >= 0) slotSet(grounds, `${one.role} ${token}`).add(ground);
  }
  /** All that is drawn on the surface belongs to another surface by name and use: `signal.surge.mark` to `signal.surge.face`. */
  const foreign = (surface: number): boolean => {
    const inks = [...(onGround.get(`ink ${surface}`)?.keys() ?? [])];
    return (
      inks.length > 0 && inks.every((ink) => partnersOf(ink).some((partner) => partner !== surface) && !isFamily(ink, surface))
    );
  };
  const isFamily = (one: number, other: number): boolean => {
    const family = familyOf(world.index.pathOf(one));
    return family !== '' && family === familyOf(world.index.pathOf(other));
  };
  /** Surfaces of its own name that it lies on; none of what is met on more of other names: that is meant for all of them. */
  const partnersOf = (ink: number): readonly number[] => {
    const all = [...(grounds.get(`ink ${ink}`) ?? [])];
    const own = all.filter((surface) => isFamily(ink, surface));
    return own.length < all.length - own.length ? [] : own;
  };
  const { index } = world;
  const busy = new Set(world.cases.flatMap(({ fore, back }) => [fore, ...back.map(({ ref }) => ref)].flatMap(tokensOf)));
  const numbered = numberedSteps(index);
  const isStep = (token: number): boolean => index.stepOf(token) !== null || numbered.has(token);
  const idle = index.table.tokens.flatMap(({ isComposite }, token) => {
    if (isComposite === true || busy.has(token) || exempt.has(token) || isStep(token)) return [];
    return index.table.themes.some((_, theme) => index.dependentsOf(theme, token).some((each) => each !== token)) ? [] : [token];
  });
  const idleByRole = new Map<Role, readonly number[]>();
  const groups = new Map<string, number[]>();
  world.index.table.tokens.forEach(({ path }, token) => {
    if (world.index.stepOf(token) === null) appendTo(groups, groupOf(path), token);
  });
  const serves = (role: Role, token: number): boolean => {
    const path = index.pathOf(token);
    return mayServeAs(role, path) && !saysOtherInk(role, path);
  };
  /** An ink may draw icons as well as words. */
  const otherInk = (role: Role): readonly number[] => {
    const other = role === 'glyph' ? 'ink' : role === 'ink' ? 'glyph' : null;
    return other === null ? [] : [...(roles.get(other)?.keys() ?? [])].filter((token) => roles.get(role)?.has(token) !== true);
  };
  return {
    as: (role) => roles.get(role) ?? NONE,
    on: (role, ground) => onGround.get(`${role} ${ground}`) ?? NONE,
    groundsOf: (role, token) => grounds.get(`${role} ${token}`)?.size ?? 0,
    partnersOf,
    isStrangeAs: (role, token) => {
      if (role === 'surface' && foreign(token)) return true;
      const group = groups.get(groupOf(world.index.pathOf(token))) ?? [];
      const isUsed = (totals.get(token) ?? 0) > 0;
      const asked = isUsed ? [token] : group;
      const sum = (of: ReadonlyMap<number, number> | undefined): number =>
        asked.reduce((all, each) => all + (of?.get(each) ?? 0), 0);
      const all = sum(totals);
      // Groups hold things of many kinds: that none of them is used so says something, a small share does not.
      if (all === 0) return false;
      if (!isUsed) return sum(meant.get(role)) === 0;
      const { rules, weight } = failing.get(`${role} ${token}`) ?? NOWHERE;
      const path = index.pathOf(token);
      const isMeant = isCalledFor(role, path) ? rules.size > 0 : rules.size >= RULES_AGREE && mayServeAs(role, path);
      const failed = isMeant ? weight : 0;
      return sum(meant.get(role)) + failed < STRANGE * (all + failed);
    },
    idleAs: (role) => {
      let known = idleByRole.get(role);
      if (known === undefined) idleByRole.set(role, (known = [...otherInk(role), ...idle].filter((token) => serves(role, token))));
      return known;
    },
  };
}

/**
 * Functions of several properties have no name; numbers of a colour serve where they are drawn in full and no token is that colour (`--blue`
 * beside `--blue-rgb`).
 */
function openOffer({ table, colorOf }: TableIndex): (token: number, alpha: number) => boolean {
  const key = (token: number): string => table.themes.map((_, theme) => toCssText(colorOf(theme, token) ?? TRANSPARENT)).join(' ');
  const colors = new Set(table.tokens.flatMap(({ isBare }, token) => (isBare === true ? [] : [key(token)])));
  return (token, alpha) => {
    const { isBare, properties = [] } = table.tokens[token] ?? {};
    return isBare !== true || (alpha === 1 && properties.length > 0 && !colors.has(key(token)));
  };
}

/** All of a path but its last part; empty where there is no more. */
export function familyOf(path: string): string {
  const at = path.startsWith('--') ? path.lastIndexOf('-') : path.lastIndexOf('.');
  return at <= 1 ? '' : path.slice(0, at);
}

/** First part of a path or of a custom property's name. */
export function groupOf(path: string): string {
  return path.startsWith('--') ? (path.slice(2).split('-')[0] ?? path) : (path.split('.')[0] ?? path);
}

/** Token of the uppermost layer behind; −1 where it is none. */
export function groundOf(one: Case): number {
  const top = one.back.at(-1)?.ref;
  return top?.kind === 'token' || top?.kind === 'stale' ? top.token : -1;
}

function slot<K>(maps: Map<K, Map<number, number>>, key: K): Map<number, number> {
  let map = maps.get(key);
  if (map === undefined) maps.set(key, (map = new Map<number, number>()));
  return map;
}

function slotSet<K>(sets: Map<K, Set<number>>, key: K): Set<number> {
  let set = sets.get(key);
  if (set === undefined) sets.set(key, (set = new Set<number>()));
  return set;
}

const NOWHERE: { readonly rules: ReadonlySet<string>; readonly weight: number } = { rules: new Set(), weight: 0 };

function note(
  failing: Map<string, { readonly rules: Set<string>; weight: number }>,
  key: string,
  { written, wrote }: Case,
  weight: number,
): void {
  let found = failing.get(key);
  if (found === undefined) failing.set(key, (found = { rules: new Set(), weight: 0 }));
  for (const [declaration] of [wrote, ...written.values()]) if (declaration !== undefined) found.rules.add(declaration.rule);
  found.weight += weight;
}

function add(map: Map<number, number>, key: number, value: number): void {
  map.set(key, (map.get(key) ?? 0) + value);
}
