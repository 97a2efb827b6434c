// Where a colour is written → the custom properties that it is built from.
import type { WrittenPlace } from '../../samples/paint.ts';

/** `hsl(var(--h) var(--s) 35%)` → `--h`, `--s`. What stands beside a colour (`var(--width) solid var(--edge)`) is no part of it. */
export function builtFrom(written: readonly WrittenPlace[]): readonly string[] {
  const values = written.map(({ value }) => takenOf(value, written)).filter((value) => value !== '');
  const value = values.find((each) => BUILDS.test(each)) ?? values[0] ?? '';
  return [...new Set([...value.matchAll(/var\(\s*(--[^\s,)]+)/gu)].flatMap(([, name]) => name ?? []))];
}

/** Of one reference and nothing else what it falls back to, where it does; '' where it goes on at what it names. */
function takenOf(value: string, written: readonly WrittenPlace[]): string {
  const [head = '', name] = REFERENCE.exec(value) ?? [];
  if (name === undefined || !isOneFunction(value)) return value;
  return written.some(({ property }) => property === name) ? '' : takenOf(value.slice(head.length, -1).trim(), written);
}

const REFERENCE = /^var\(\s*(--[^\s,()]+)\s*,?\s*/u;

/** Its first bracket is closed by the last. */
function isOneFunction(value: string): boolean {
  let depth = 0;
  for (const { 0: bracket, index } of value.matchAll(/[()]/gu)) {
    depth += bracket === '(' ? 1 : -1;
    if (depth === 0) return index === value.length - 1;
  }
  return false;
}

/** A function of parts, sizes apart. */
const BUILDS = /(?<![\w-])(?!(?:var|calc|min|max|clamp)\()[a-z][\w-]*\([^;]*var\(/iu;
