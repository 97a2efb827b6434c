// Names and numbers as people read them.
import type { CauseLayer } from '../../src/samples/finding.ts';
import type { RankedCause } from '../api/findings.ts';

/** What binary fractions fall short of decimal ones: 2.01 times 100 is 200.99…, and no less than 201. */
const SHORT = 1e-9;

/** Contrast ratios are cut, never rounded up: 4.499 must not read 4.5 (reference to WCAG 2.2, Understanding 1.4.3). */
export function ratioText(ratio: number): string {
  return `${(Math.floor(ratio * 100 + SHORT) / 100).toFixed(2)}:1`;
}

export function percentText(share: number): string {
  return `${(Math.floor(share * 1000 + SHORT) / 10).toFixed(1)} %`;
}

/** `text-contrast` → `Text contrast`, `lightnessGain` → `Lightness gain`. */
export function sentence(name: string): string {
  const words = name
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .replaceAll('-', ' ')
    .toLowerCase()
    .replace(/\bcolor\b/g, 'colour');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Made once: `toLocaleString` looks its rules up anew each time, which for a grid of numbers is most of drawing it. */
const WHOLE = new Intl.NumberFormat('en');

export function numberText(value: number): string {
  return WHOLE.format(value);
}

export function countText(count: number, one: string, many = `${one}s`): string {
  return `${numberText(count)} ${count === 1 ? one : many}`;
}

/** Measured and needed values by name: ratios as ratios, shares as per cent, the rest with at most two digits. */
export function measureText(name: string, value: number | string): string {
  if (typeof value === 'string') return value;
  if (/contrast|ratio/i.test(name)) return ratioText(value);
  if (/share|coverage/i.test(name)) return percentText(value);
  return Number.isInteger(value) ? String(value) : value.toFixed(2);
}

const DAY = new Intl.DateTimeFormat('en', { day: 'numeric', month: 'short', year: 'numeric' });
const TIME = new Intl.DateTimeFormat('en', { hour: '2-digit', minute: '2-digit', hour12: false });

export function dayText(iso: string): string {
  return DAY.format(new Date(iso));
}

/** What each of these instants is called along an axis: its day, with the hour where several fall on one day. */
export function instantNames(instants: readonly string[]): (iso: string) => string {
  const days = instants.map(dayText);
  return new Set(days).size === days.length ? dayText : momentText;
}

/** A share that is there but tiny must not read as none. */
export function tinyPercentText(share: number): string {
  return share > 0 && share < 0.001 ? '<\u00a00.1\u00a0%' : percentText(share);
}

export function momentText(iso: string): string {
  const date = new Date(iso);
  return `${DAY.format(date)}, ${TIME.format(date)}`;
}

/** What lies in each layer, as a noun and as a sentence. */
export const LAYER_WORDS = {
  ramp: { noun: 'ramp step', about: 'A step of a ramp has a value that cannot work.' },
  token: { noun: 'token', about: 'In this theme a token points at the wrong step, or has the wrong value.' },
  usage: { noun: 'usage', about: 'An element uses a colour it should not, though a right one exists.' },
  gap: { noun: 'gap', about: 'No token serves this case.' },
  build: { noun: 'build', about: 'The page has another value than the token files say.' },
  content: { noun: 'content', about: 'Words, pictures or places of the page changed; nothing of the theme did.' },
  unknown: { noun: 'not told', about: 'Where the fault lies cannot be told.' },
} as const satisfies Record<CauseLayer, { readonly noun: string; readonly about: string }>;

const CHANGE_WORDS = {
  alias: 'Point the token elsewhere',
  use: 'Use another token here',
  add: 'Add a token',
  rebuild: 'Rebuild the page from the token files',
  style: 'Change the style',
} as const;

/** What a repair does. A colour of several numbers is given by its numbers. */
export function changeText({ layer, repair }: Pick<RankedCause, 'layer'> & { readonly repair: Repair }): string {
  if (repair.change !== 'value') return CHANGE_WORDS[repair.change];
  if (repair.components !== undefined) return 'Give its properties other numbers';
  return layer === 'ramp' ? 'Give the step another colour' : 'Give the token another colour';
}

type Repair = NonNullable<RankedCause['repair']>;

/** In the order they are told apart: values, definitions, uses, what is missing, delivery, the page's own content. */
export const CAUSE_LAYER_NAMES = [
  'ramp',
  'token',
  'usage',
  'gap',
  'build',
  'content',
  'unknown',
] as const satisfies readonly CauseLayer[];
