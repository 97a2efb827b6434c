// Causes of stores that a version before 011-repair-parts wrote: what a style changes, what a missing token must be and which part of a
// repair is of which kind stood in its words alone. Frozen with that migration: no repair is read out of its words anywhere else.

interface Told {
  readonly change?: unknown;
  readonly from?: unknown;
  readonly to?: unknown;
  readonly also?: unknown;
}

/** @param body JSON of a cause @returns JSON of the same cause, its repair with the members of its kind */
export function partedCause(body: string): string {
  const cause: unknown = JSON.parse(body);
  if (!isObject(cause) || !('repair' in cause) || !isObject(cause.repair)) return body;
  const repair: Told = cause.repair;
  const also = Array.isArray(repair.also)
    ? { also: repair.also.map((part: unknown) => ({ change: 'use', ...(isObject(part) ? part : {}) })) }
    : {};
  return JSON.stringify({ ...cause, repair: { ...repair, ...membersOf(repair), ...also } });
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function membersOf({ change, from, to }: Told): object {
  if (change === 'add') return { asks: [] };
  if (change !== 'style') return {};
  const [property, now] = declaration(String(from));
  return { style: { property, from: now, to: declaration(String(to))[1] } };
}

function declaration(text: string): readonly [property: string, value: string] {
  const colon = text.indexOf(':');
  return [text.slice(0, Math.max(colon, 0)), text.slice(colon + 1).trim()];
}
