// How numbers and places read in messages.
import type { Sample } from '../samples/sample.ts';

const LONGEST_LABEL = 40;

/** What people call the place: its text in quotes, else the end of its selector. */
export function nameOf(sample: Sample): string {
  const text = sample.kind === 'text' ? sample.text : sample.label;
  return text === undefined || text.trim() === '' ? shortSelector(sample.selector) : `“${cut(text.trim(), LONGEST_LABEL)}”`;
}

/** From the last element with an id on, or the last two steps. */
function shortSelector(selector: string): string {
  const steps = selector.split(' > ');
  const named = steps.findLastIndex((step) => step.startsWith('#'));
  const kept = named === -1 ? steps.slice(-2) : steps.slice(named);
  return kept.length <= 3 ? kept.join(' > ') : `${kept[0] ?? ''} … ${kept.at(-1) ?? ''}`;
}

function cut(text: string, most: number): string {
  return text.length <= most ? text : `${text.slice(0, most - 1).replace(/\p{Surrogate}$/u, '')}…`;
}

/** Lightness and its differences: whole from 10 up, one digit below. */
export function showLightness(value: number): string {
  return Math.abs(value) >= 10 ? value.toFixed(0) : value.toFixed(1);
}

/** OKLCH chroma, three digits. */
export function showChroma(value: number): string {
  return value.toFixed(3);
}

/** Contrast ratios for `measured`: cut to three digits, not rounded, so that 4.4996 is never said to reach 4.5. */
export function cutRatio(ratio: number): number {
  return Math.floor(ratio * 1000 + 1e-9) / 1000;
}

/** For `measured` and `expected`: short enough to read, exact enough to compare. */
export function rounded(value: number, digits = 3): number {
  return Number(value.toFixed(digits));
}
