// Text runs and what was read about them → samples: split where line boxes lie on different backgrounds.
import { contrastRatio } from '../../src/colour/contrast-ratio.ts';
import { toHex } from '../../src/colour/format-color.ts';
import { findColor } from '../../src/colour/parse-color.ts';
import { isLargeText } from '../../src/colour/text-requirement.ts';
import type { Pair } from '../../src/pictures/under-glyphs.ts';
import { distance } from '../../src/pictures/under-glyphs.ts';
import type { Layer, Paint } from '../../src/samples/paint.ts';
import type { TextSample } from '../../src/samples/sample.ts';
import type { Rect } from '../../src/samples/view.ts';
import type { WireGround, WireLayer, WireRun, WireText } from '../page/wire/wire.ts';
import type { PairContrast } from './contrast-of-pairs.ts';
import { contrastOfPairs } from './contrast-of-pairs.ts';
import type { Formula } from './formula.ts';
import type { OriginOf } from './layers.ts';
import { chainOf, layersOf, paintedLayers } from './layers.ts';
import type { Reading } from './read-text.ts';
import { packed } from './read-text.ts';

export interface TextFacts {
  readonly view: string;
  readonly text: WireText;
  readonly readings: readonly (readonly Reading[])[];
  readonly formulaOf: (run: WireRun) => Formula;
  readonly originOf: OriginOf;
  /** Layers by painting order, for runs whose ancestors do not tell what lies behind them. */
  readonly beneath: ReadonlyMap<number, readonly WireLayer[]>;
}

export function textSamples(facts: TextFacts): readonly TextSample[] {
  const { text, originOf } = facts;
  const layers = new Map<number, readonly Layer[]>();
  const layersAt = (ground: number): readonly Layer[] => {
    const known = layers.get(ground) ?? layersOf(text.canvas, chainOf(text.grounds, ground), originOf);
    layers.set(ground, known);
    return known;
  };
  return text.runs.flatMap((run, index) => {
    const formula = facts.formulaOf(run);
    const parts = partsOf(run, facts.readings[index] ?? [], formula);
    const painted = facts.beneath.get(index);
    const layersHere = painted === undefined ? layersAt(run.ground) : paintedLayers(text.canvas, painted, originOf);
    return parts.map((part, n) => sampleOf(facts, run, part, { formula, layers: layersHere, suffix: n === 0 ? '' : `/${n + 1}` }));
  });
}

/** Line boxes of a run that lie on the same background. */
interface Part {
  readonly rects: readonly Rect[];
  readonly found:
    | { readonly kind: 'computed' }
    | { readonly kind: 'covered' }
    | { readonly kind: 'painted'; readonly contrast: PairContrast }
    | { readonly kind: 'unknown'; readonly why: string };
}

/** A background that fills this share of what lies under the glyphs is flat; the rest is edges. */
const FLAT_SHARE = 0.97;
/** Codes by which two readings of one colour may differ: rounding, one a layer. */
const ROUNDING_CODES = 2;

function partsOf(run: WireRun, readings: readonly Reading[], formula: Formula): readonly Part[] {
  const groups = new Map<string, { rects: Rect[]; pairs: Pair[]; reading: Reading }>();
  for (const [box, reading] of readings.entries()) {
    const rect = run.rects[box];
    if (rect === undefined || reading.kind === 'unseen') continue;
    const key = groupKey(reading, groups.keys());
    const group = groups.get(key) ?? { rects: [], pairs: [], reading };
    group.rects.push(rect);
    if (reading.kind === 'painted') group.pairs.push(...reading.pairs);
    groups.set(key, group);
  }
  // A line that is covered but for a sliver is left out where others of the run can be read.
  if (groups.size > 1) groups.delete('covered');
  const parts: Part[] = [];
  const rim = run.outline === undefined ? null : rimOf(run.outline.color);
  for (const { rects, pairs, reading } of groups.values()) {
    if (reading.kind !== 'painted') {
      if (reading.kind !== 'unseen') parts.push({ rects, found: reading });
      continue;
    }
    const contrast = contrastOfPairs(merged(pairs), rim);
    if (contrast === null) continue;
    const agrees =
      rim === null &&
      formula.sure &&
      isFlat(contrast) &&
      near(contrast.worst.ink, packed(formula.ink)) &&
      near(contrast.worst.background, packed(formula.background));
    parts.push({ rects, found: agrees ? { kind: 'computed' } : { kind: 'painted', contrast } });
  }
  return joinComputed(parts);
}

/** Runs whose computed colours are not what is painted, though nothing in their ancestors explains it. */
export function misjudged(facts: Pick<TextFacts, 'text' | 'readings' | 'formulaOf'>): readonly number[] {
  return facts.text.runs.flatMap((run, index) => {
    const formula = facts.formulaOf(run);
    if (!formula.sure) return [];
    const parts = partsOf(run, facts.readings[index] ?? [], formula);
    const says = packed(formula.background);
    return parts.some(({ found }) => found.kind === 'painted' && !near(found.contrast.worst.background, says)) ? [index] : [];
  });
}

/** Flat backgrounds stand apart from each other; everything that is not flat is one part. */
function groupKey(reading: Reading, known: Iterable<string>): string {
  if (reading.kind !== 'painted') return reading.kind;
  const contrast = contrastOfPairs(reading.pairs, null);
  if (contrast === null || !isFlat(contrast)) return 'varied';
  const { background, ink } = contrast.worst;
  for (const key of known) {
    const [kind, other, otherInk] = key.split(' ');
    if (kind === 'flat' && near(Number(other), background) && near(Number(otherInk), ink)) return key;
  }
  return `flat ${background} ${ink}`;
}

const isFlat = (contrast: PairContrast): boolean => (contrast.spread[0]?.share ?? 0) >= FLAT_SHARE;
const near = (a: number, b: number): boolean => distance(a, b) <= ROUNDING_CODES;

function merged(pairs: readonly Pair[]): readonly Pair[] {
  const all = new Map<number, Pair>();
  for (const pair of pairs) {
    const key = pair.background * 0x1000000 + pair.ink;
    all.set(key, { ...pair, count: pair.count + (all.get(key)?.count ?? 0) });
  }
  return [...all.values()];
}

function joinComputed(parts: readonly Part[]): readonly Part[] {
  const computed = parts.filter((part) => part.found.kind === 'computed');
  const [first] = computed;
  if (first === undefined || computed.length === 1) return parts;
  const joined: Part = { ...first, rects: computed.flatMap((part) => part.rects) };
  return parts.flatMap((part) => (part === first ? [joined] : part.found.kind === 'computed' ? [] : [part]));
}

function rimOf(text: string): number | null {
  const color = findColor(text);
  return color === null || color.alpha < 0.5 ? null : packed({ ...color, alpha: 1 });
}

const COVERED = { reason: 'hidden', why: 'covered: less than a letter of it is in sight' } as const;

interface Rest {
  readonly formula: Formula;
  readonly layers: readonly Layer[];
  readonly suffix: string;
}

function sampleOf(facts: TextFacts, run: WireRun, part: Part, { formula, layers, suffix }: Rest): TextSample {
  const seen = seenOf(part, formula);
  const exempt = run.exempt ?? (part.found.kind === 'covered' ? COVERED : null);
  const says = { color: toHex(formula.ink), background: toHex(formula.background) };
  const disagrees =
    seen.basis === 'pixels' &&
    formula.sure &&
    !(near(seen.ink, packed(formula.ink)) && near(seen.background, packed(formula.background)));
  return {
    kind: 'text',
    view: facts.view,
    selector: run.selector,
    key: run.key + suffix,
    rect: around(part.rects),
    ...(run.exemptions === undefined ? {} : { exemptions: run.exemptions }),
    ...(run.owner === undefined ? {} : { owner: run.owner }),
    ...(run.behind === undefined ? {} : { behind: run.behind }),
    text: run.text,
    color: hexOf(seen.ink),
    background: hexOf(seen.background),
    backgroundSpread: seen.spread.map(hexOf),
    contrast: seen.contrast,
    fontSize: run.fontSize,
    fontWeight: run.fontWeight,
    large: isLargeText({ fontSizeCssPx: run.fontSize, fontWeight: run.fontWeight }),
    exempt: exempt?.reason ?? null,
    ...(exempt === null ? {} : { why: exempt.why }),
    ...(part.found.kind === 'unknown' ? { unread: part.found.why } : {}),
    basis: seen.basis,
    ...(disagrees ? { disagreement: says } : {}),
    ink: inkOf(run, facts),
    inkOpacity: inkOpacity(run, facts.text.grounds),
    ...fadeOf(run, facts.text.grounds),
    layers,
  };
}

function inkOf({ selector, inkOn, inkProperty, ink }: WireRun, { originOf }: TextFacts): Paint {
  const origin = originOf(inkOn ?? selector, inkProperty, ink);
  return { property: inkProperty, color: ink, origin, ...(inkOn === undefined ? {} : { on: inkOn }) };
}

interface SeenText {
  readonly ink: number;
  readonly background: number;
  readonly spread: readonly number[];
  readonly contrast: TextSample['contrast'];
  readonly basis: TextSample['basis'];
}

function seenOf({ found }: Part, formula: Formula): SeenText {
  switch (found.kind) {
    case 'painted': {
      const { min, max, lowest, worst, spread } = found.contrast;
      return {
        ...worst,
        spread: spread.map((s) => s.background),
        contrast: { min, max, ...(lowest < min ? { lowest } : {}) },
        basis: 'pixels',
      };
    }
    case 'computed':
    case 'covered':
    case 'unknown': {
      const contrast = contrastRatio(formula);
      const background = packed(formula.background);
      return {
        ink: packed(formula.ink),
        background,
        spread: [background],
        contrast: { min: contrast, max: contrast },
        basis: 'computed',
      };
    }
  }
}

const hexOf = (color: number): string => `#${color.toString(16).padStart(6, '0')}`;

function inkOpacity(run: WireRun, grounds: readonly WireGround[]): number {
  return chainOf(grounds, run.ground).reduce((product, ground) => product * (ground.opacity ?? 1), run.inkAlpha ?? 1);
}

/** Of several the strongest, of equals the outermost. */
function fadeOf(run: WireRun, grounds: readonly WireGround[]): Pick<TextSample, 'fade'> {
  const [fade] = chainOf(grounds, run.ground)
    .flatMap(({ selector, opacity = 1 }) => (opacity < 1 ? [{ selector, opacity }] : []))
    .toSorted((one, other) => one.opacity - other.opacity);
  return fade === undefined ? {} : { fade };
}

export function around(rects: readonly Rect[]): Rect {
  const left = Math.min(...rects.map((r) => r[0]));
  const top = Math.min(...rects.map((r) => r[1]));
  const right = Math.max(...rects.map((r) => r[0] + r[2]));
  const bottom = Math.max(...rects.map((r) => r[1] + r[3]));
  return [left, top, right - left, bottom - top];
}

export { NOT_TRACED, chainOf, layersOf } from './layers.ts';
export type { OriginOf } from './layers.ts';
