// Would a check speak of a case if these colours were seen? The check itself is asked, on the case's own sample with the colours put in:
// triage judges as a run does, and cannot disagree with it.
import type { Against, Counterpart, Judge } from '../../checks/check.ts';
import type { Opaque } from '../../colour/color.ts';
import { inSrgbGamut, opaque } from '../../colour/color.ts';
import { contrastRatio } from '../../colour/contrast-ratio.ts';
import { toCssText } from '../../colour/format-color.ts';
import { cieLightness, toOklch } from '../../colour/lightness.ts';
import type { Paint } from '../../samples/paint.ts';
import type { Sample, SurfaceSample } from '../../samples/sample.ts';
import type { Case } from '../cases/case.ts';
import type { SeenPair } from './seen-pair.ts';
import type { Answer, World } from '../world.ts';

/** A case with the colours that it would have. */
export interface Seen {
  readonly case: Case;
  readonly pairs: readonly SeenPair[];
  /** Token that would paint it, when the change gives it one. */
  readonly painted?: string | undefined;
  /** Selector of the element whose filter would be gone. */
  readonly cleared?: string | undefined;
  /** The sample as it would be, by margin, once it was worked out: several checks ask about it. */
  readonly made: Map<number, Sample | null>;
}

export function seen(one: Case, pairs: readonly SeenPair[], by: Pick<Seen, 'painted' | 'cleared'> = {}): Seen {
  return { case: one, pairs, painted: by.painted, cleared: by.cleared, made: new Map() };
}

/** A repair must clear its threshold by this factor, so that rounding to 8 bits does not undo it (ours; one code is worth at most 1 %). */
export const MARGIN = 1.01;

/**
 * @param reference how the same place would look in the reference theme; asked for only where a check compares
 * @param margin 1 to judge what is, `MARGIN` to judge a repair
 */
export function answerOf(world: World, judge: Judge, now: Seen, reference: () => Seen | null, margin = 1): Answer {
  const { kind } = now.case.facts;
  // Contrast is quickly worked out; what surfaces, shadows and pictures take longer for is asked again and again.
  if (kind === 'text' || kind === 'graphic') return ask(world, judge, now, reference, margin);
  const there = reference();
  const key = `${judge.id} ${sightKey(now)} ${there === null ? '' : sightKey(there)}`;
  let known = world.memory.get(key);
  if (known === undefined) world.memory.set(key, (known = ask(world, judge, now, () => there, margin)));
  return known;
}

function ask(world: World, judge: Judge, now: Seen, reference: () => Seen | null, margin: number): Answer {
  const sample = sampleOf(now, margin);
  const fault = sample === null ? null : judge.judge(sample, againstOf(world, now.case, reference));
  return fault === null ? 'no' : fault.part === true ? 'part' : 'yes';
}

function againstOf({ index, level }: World, one: Case, look: () => Seen | null): Against {
  const { themes, reference } = index.table;
  const { name: theme = '', tone = 'light' } = themes[one.theme] ?? {};
  const there = themes[reference];
  if (one.theme === reference || there === undefined) return { theme, tone, level, reference: null };
  // The same things painted elsewhere on another page stand for the same place: what they are painted with is equal.
  const samePlace: Counterpart['samePlace'] = (kind) => {
    const found = look();
    const sample = found === null ? null : sampleOf(found, 1);
    return sample !== null && isKind(sample, kind) ? sample : undefined;
  };
  return { theme, tone, level, reference: { theme: there.name, tone: there.tone, samePlace } };
}

function isKind<K extends Sample['kind']>(sample: Sample, kind: K): sample is Extract<Sample, { readonly kind: K }> {
  return sample.kind === kind;
}

/** Checks see 8-bit colours. */
function sightKey({ case: one, pairs, painted, cleared }: Seen): string {
  const [pair] = pairs;
  return `${one.id} ${pair === undefined ? '' : `${codeOf(pair.fore)} ${codeOf(pair.back)}`} ${painted ?? ''} ${cleared ?? ''}`;
}

function codeOf({ r, g, b }: Opaque): number {
  return (Math.round(r * 255) << 16) + (Math.round(g * 255) << 8) + Math.round(b * 255);
}

const texts = new Map<number, string>();

/** Few colours are tried, each in many places. */
function textOf(color: Opaque): string {
  if (!inSrgbGamut(color)) return toCssText(color);
  const code = codeOf(color);
  let text = texts.get(code);
  if (text === undefined) texts.set(code, (text = toCssText(color)));
  return text;
}

/** Contrast at the worst place. */
export function lowest(pairs: readonly SeenPair[]): number {
  let least = Infinity;
  for (const { fore, back } of pairs) least = Math.min(least, contrastRatio({ ink: fore, background: back }));
  return least;
}

function highest(pairs: readonly SeenPair[]): number {
  let most = 0;
  for (const { fore, back } of pairs) most = Math.max(most, contrastRatio({ ink: fore, background: back }));
  return most;
}

function sampleOf(now: Seen, margin: number): Sample | null {
  let sample = now.made.get(margin);
  if (sample === undefined) now.made.set(margin, (sample = recolored(now, margin)));
  return sample;
}

/** The case's own sample with other colours. */
function recolored({ case: one, pairs, painted, cleared }: Seen, margin: number): Sample | null {
  const { sample } = one.place;
  if (sample?.kind === 'picture')
    return { ...sample, filters: sample.filters.filter(({ selector }) => selector !== cleared), luma: [] };
  const pair = pairs[0];
  if (sample === null || pair === undefined) return null;
  const { fore, back } = pair;
  const paintOf = (paint: Paint): Paint =>
    painted === undefined ? paint : { ...paint, origin: { kind: 'token', property: painted, alpha: 1 } };
  const color = textOf(fore);
  const behind = textOf(back);
  switch (sample.kind) {
    case 'text': {
      const min = lowest(pairs) / margin;
      const max = pairs.length === 1 ? min : highest(pairs) / margin;
      const backgroundSpread = pairs.length === 1 ? [behind] : pairs.map((each) => textOf(each.back));
      return { ...sample, color, background: behind, backgroundSpread, contrast: { min, max }, ink: paintOf(sample.ink) };
    }
    case 'graphic':
      return { ...sample, color, against: behind, contrast: lowest(pairs) / margin, paint: paintOf(sample.paint) };
    case 'surface': {
      const { chroma, hueDeg } = toOklch(fore);
      const lightness = cieLightness(opaque(fore));
      return {
        ...sample,
        color,
        around: behind,
        lightness,
        aroundLightness: cieLightness(back),
        chroma,
        hueDeg,
        tone: toneOf(one, sample.tone, lightness),
        paint: paintOf(sample.paint),
      };
    }
    case 'shadow': {
      const chromaGain = toOklch(fore).chroma - toOklch(back).chroma;
      const lightnessGain = cieLightness(fore) - cieLightness(back);
      return { ...sample, color, beneath: behind, lightnessGain, chromaGain, paint: paintOf(sample.paint) };
    }
  }
}

/** L* between the tones; as long as a surface stays on its side it keeps the tone it was given. */
const MIDDLE_LIGHTNESS = 50;

function toneOf(one: Case, given: SurfaceSample['tone'], lightness: number): SurfaceSample['tone'] {
  const before = cieLightness(one.seenFore);
  const crossed = before < MIDDLE_LIGHTNESS !== lightness < MIDDLE_LIGHTNESS;
  return crossed ? (lightness < MIDDLE_LIGHTNESS ? 'dark' : 'light') : given;
}
