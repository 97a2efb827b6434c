// How the page uses its tokens where nothing is wrong: as what, and on what. The samples say it better than any name.
import type { Case, Role } from './case.ts';
import type { World } from './world.ts';
import { weightOf } from './world.ts';

export interface TokenUsage {
  /** Weight of a token's uses as `role`, by token. */
  as(role: Role): ReadonlyMap<number, number>;
  /** The same, counting only uses on a surface painted with `ground`. */
  on(role: Role, ground: number): ReadonlyMap<number, number>;
  /** On how many surface tokens it is used as `role`. */
  groundsOf(role: Role, token: number): number;
  /** Share of the token's uses that are uses as `role`, 0–1; 0 when it is not used. */
  shareAs(role: Role, token: number): number;
  /** Weight of all its uses. */
  total(token: number): number;
}

const NONE: ReadonlyMap<number, number> = new Map();

export function openUsage(world: World): TokenUsage {
  const roles = new Map<Role, Map<number, number>>();
  const onGround = new Map<string, Map<number, number>>();
  const grounds = new Map<string, Set<number>>();
  const totals = new Map<number, number>();
  for (const one of world.cases) {
    if ((one.fore.kind !== 'token' && one.fore.kind !== 'stale') || one.findings.size > 0) continue;
    const { token } = one.fore;
    const weight = weightOf(one.samples);
    add(slot(roles, one.role), token, weight);
    add(totals, token, weight);
    const ground = groundOf(one);
    if (ground >= 0) {
      add(slot(onGround, `${one.role} ${ground}`), token, weight);
      slotSet(grounds, `${one.role} ${token}`).add(ground);
    }
  }
  return {
    as: (role) => roles.get(role) ?? NONE,
    on: (role, ground) => onGround.get(`${role} ${ground}`) ?? NONE,
    groundsOf: (role, token) => grounds.get(`${role} ${token}`)?.size ?? 0,
    shareAs: (role, token) => (roles.get(role)?.get(token) ?? 0) / (totals.get(token) ?? 1),
    total: (token) => totals.get(token) ?? 0,
  };
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

function add(map: Map<number, number>, key: number, value: number): void {
  map.set(key, (map.get(key) ?? 0) + value);
}
