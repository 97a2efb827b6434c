// What a token is used for: told by runs, never by its name (Format 2025.10, F6, F9.2).
import type { TokenGraph } from './graph.ts';

export const ROLES = ['ink', 'surface', 'edge', 'glyph', 'shadow'] as const;
/** Text, painted box, border or outline, icon, shadow. */
export type Role = (typeof ROLES)[number];

/** Places on pages where a token was used, by role. */
export interface TokenUse {
  readonly token: string;
  readonly role: Role;
  readonly count: number;
}

/** Token → role → places. */
export type RolesOf = ReadonlyMap<string, ReadonlyMap<Role, number>>;

export function gatherRoles(uses: Iterable<TokenUse>): RolesOf {
  const roles = new Map<string, Map<Role, number>>();
  for (const { token, role, count } of uses) {
    const known = roles.get(token) ?? new Map<Role, number>();
    known.set(role, (known.get(role) ?? 0) + count);
    roles.set(token, known);
  }
  return roles;
}

/** Roles of a token: those it was met in, and those of the tokens that take their colour from it. */
export function rolesThrough(graph: TokenGraph, roles: RolesOf, path: string): ReadonlySet<Role> {
  const users = graph.themes.flatMap((theme) => graph.dependents(path, theme));
  return new Set([path, ...users].flatMap((token) => [...(roles.get(token)?.keys() ?? [])]));
}

/** The role most of its places have; null when it was not met. */
export function mainRole(roles: RolesOf, path: string): Role | null {
  const [most] = [...(roles.get(path) ?? [])].sort((a, b) => b[1] - a[1]);
  return most?.[0] ?? null;
}
