// Launch criteria of a theme: its own rows laid over those of `*`.
import type { Ceilings, GateCriteria } from '../plan/configuration.ts';

/** Their warnings say that a part of the page did not follow the theme, or follows none: that must not pass by being a warning. */
const THEMED = ['unthemed', 'flipped', 'inverted-picture', 'neon'] as const;

/** Holds when nobody configured anything. */
const UNCONFIGURED: GateCriteria = {
  most: [{ check: '*', level: 'error', count: 0 }, ...THEMED.map((check) => ({ check, level: 'warning', count: 0 }) as const)],
};

/** The same in words. */
export const LEAST_WORDS = `no finding of level error, no warning of ${THEMED.slice(0, -1).join(', ')} or ${THEMED.at(-1) ?? ''}`;

/** @param gate the configuration's `gate`: theme name or `*` → criteria */
export function criteriaFor(
  gate: Readonly<Record<string, GateCriteria>>,
  theme: string,
): { readonly criteria: GateCriteria; readonly configured: boolean } {
  const all = gate['*'];
  const own = gate[theme];
  if (all === undefined || own === undefined) {
    const only = own ?? all;
    return { criteria: only ?? UNCONFIGURED, configured: only !== undefined };
  }
  const owners = Object.fromEntries(
    [...new Set([...Object.keys(all.owners ?? {}), ...Object.keys(own.owners ?? {})])].map((owner) => [
      owner,
      layOver(all.owners?.[owner], own.owners?.[owner]),
    ]),
  );
  return { criteria: { ...all, ...own, ...layOver(all, own), owners }, configured: true };
}

/** Rows for the same check and level: the upper one counts. */
function layOver(below: Ceilings = { most: [] }, above: Ceilings = { most: [] }): Ceilings {
  const key = (row: Ceilings['most'][number]): string => `${row.check}:${row.level ?? ''}`;
  const overlaid = new Set(above.most.map(key));
  return { ...below, ...above, most: [...above.most, ...below.most.filter((row) => !overlaid.has(key(row)))] };
}
