// A declaration that takes alpha off a token → the same with another alpha.
import { isPainted, ownPaint } from '../cases/read-sample.ts';
import type { Case } from '../cases/case.ts';
import type { StyleSwap } from '../../samples/finding.ts';
import { valueInUse } from './naming.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** @param alpha what is to be left of the token's own, 0–1 */
export function alphaStyle(index: TableIndex, { fore, wrote, place: { sample } }: Case, alpha: number): StyleSwap {
  const token = fore.kind === 'token' ? fore.token : -1;
  const name = index.table.tokens[token]?.properties[0] ?? '';
  const own = wrote.find(({ value }) => value.includes(`var(${name})`));
  const now = fore.kind === 'token' ? fore.alpha : 1;
  const to = own === undefined || name === '' ? null : rewritten(own.value, name, { now, alpha });
  if (own !== undefined && to !== null) return { property: own.property, from: own.value, to };
  const property = sample !== null && isPainted(sample) ? ownPaint(sample).property : 'color';
  const mixed = (share: number): string => mixOf(index, token, share);
  return { property, from: mixed(now), to: mixed(alpha) };
}

/**
 * `rgb(var(--x) / 0.2)`, `rgba(var(--x), var(--faint))`, `color-mix(in srgb, var(--x) 20%, transparent)`, `oklch(from var(--x) l c h / 0.2)`,
 * of which a list of shadows may hold several; null where it is written otherwise.
 */
function rewritten(value: string, name: string, { now, alpha }: { readonly now: number; readonly alpha: number }): string | null {
  const token = `var\\(${name.replace(/[^\w-]/gu, '\\$&')}\\)`;
  const built = new RegExp(`((?:rgb|hsl)a?\\(\\s*${token}\\s*[,/]\\s*)(?:[\\d.]+%?|var\\([^()]*\\)|calc\\(.*\\))(\\s*\\))`, 'u');
  if (built.test(value)) return value.replace(built, (_, before: string, after: string) => `${before}${alpha}${after}`);
  const relative = new RegExp(`(\\bfrom\\s+${token}(?:\\s+[a-z]){3}\\s*/\\s*)([\\d.]+)(%?)(\\s*\\))`, 'gu');
  const turned = value.replace(relative, (whole, before: string, share: string, unit: string, after: string) =>
    Math.abs(Number(share) / (unit === '' ? 1 : 100) - now) < SAME_ALPHA ? `${before}${alpha}${after}` : whole,
  );
  if (turned !== value) return turned;
  const mixed = new RegExp(`(${token}\\s+)[\\d.]+%(\\s*,\\s*transparent)`, 'u');
  return mixed.test(value)
    ? value.replace(mixed, (_, before: string, after: string) => `${before}${percent(alpha)}${after}`)
    : null;
}

/** Alphas are written with two digits, mostly. */
const SAME_ALPHA = 0.006;

/** Numbers that are a colour in their function get it there: with commas where they are written so. */
function mixOf(index: TableIndex, token: number, share: number): string {
  const whole = valueInUse(index, token);
  const { isBare, built } = index.table.tokens[token] ?? {};
  if (isBare !== true) return `color-mix(in srgb, ${whole} ${percent(share)}, transparent)`;
  const numbers = [...(built?.find((each) => each !== null)?.numbers.values() ?? [])];
  const mark = numbers.some((text) => text.includes(',')) ? ', ' : ' / ';
  return `${whole.slice(0, whole.lastIndexOf(')'))}${mark}${Number(share.toFixed(3))})`;
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))}%`;
}
