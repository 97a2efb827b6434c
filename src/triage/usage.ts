// How the page uses its tokens where nothing is wrong: as what, and on what. The samples say it better than any name.
import type { Case, Role } from './case.ts';
import { appendTo } from './counting.ts';
import type { World } from './world.ts';
import { weightOf } from './world.ts';

export interface TokenUsage {
  /** Weight of a token's uses as `role`, by token. */
  as(role: Role): ReadonlyMap<number, number>;
  /** The same, counting only uses on a surface painted with `ground`. */
  on(role: Role, ground: number): ReadonlyMap<number, number>;
  /** On how many surface tokens it is used as `role`. */
  groundsOf(role: Role, token: number): number;
  /** Whether the token is used as something else; of an unused one, whether the others of its group are. */
  isStrangeAs(role: Role, token: number): boolean;
  /** In how many ways it is used at all, right or wrong; a family of cases is one way. */
  waysOf(token: number): number;
}

/** A token is meant for what at least this share of its uses is (ours). */
const STRANGE = 0.2;
const NONE: ReadonlyMap<number, number> = new Map();

export function openUsage(world: World): TokenUsage {
  const roles = new Map<Role, Map<number, number>>();
  const onGround = new Map<string, Map<number, number>>();
  const grounds = new Map<string, Set<number>>();
  const ways = new Map<number, Set<string>>();
  const totals = new Map<number, number>();
  for (const one of world.cases) {
    if (one.fore.kind !== 'token' && one.fore.kind !== 'stale') continue;
    const { token } = one.fore;
    slotSet(ways, token).add(one.family);
    if (one.findings.size > 0) continue;
    const weight = weightOf(one.samples);
    add(slot(roles, one.role), token, weight);
    add(totals, token, weight);
    const ground = groundOf(one);
    if (ground >= 0) {
      add(slot(onGround, `${one.role} ${ground}`), token, weight);
      slotSet(grounds, `${one.role} ${token}`).add(ground);
    }
  }
  const groups = new Map<string, number[]>();
  world.index.table.tokens.forEach(({ path }, token) => {
    if (world.index.stepOf(token) === null) appendTo(groups, groupOf(path), token);
  });
  return {
    as: (role) => roles.get(role) ?? NONE,
    on: (role, ground) => onGround.get(`${role} ${ground}`) ?? NONE,
    groundsOf: (role, token) => grounds.get(`${role} ${token}`)?.size ?? 0,
    isStrangeAs: (role, token) => {
      const group = groups.get(groupOf(world.index.pathOf(token))) ?? [];
      const asked = (totals.get(token) ?? 0) > 0 ? [token] : group;
      const sum = (of: ReadonlyMap<number, number> | undefined): number =>
        asked.reduce((all, each) => all + (of?.get(each) ?? 0), 0);
      const all = sum(totals);
      return all > 0 && sum(roles.get(role)) < STRANGE * all;
    },
    waysOf: (token) => ways.get(token)?.size ?? 0,
  };
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

function slotSet<K, V>(sets: Map<K, Set<V>>, key: K): Set<V> {
  let set = sets.get(key);
  if (set === undefined) sets.set(key, (set = new Set<V>()));
  return set;
}

function add(map: Map<number, number>, key: number, value: number): void {
  map.set(key, (map.get(key) ?? 0) + value);
}
