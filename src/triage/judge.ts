// Would a check fire on a case if these colours were seen? Contrast is computed here; all else is asked of the check itself, on the
// case's own sample with the colours put in, so that triage and checks cannot disagree.
import type { Reference, Subject } from '../checks/check.ts';
import type { Opaque } from '../colour/color.ts';
import { opaque } from '../colour/color.ts';
import { contrastRatio } from '../colour/contrast-ratio.ts';
import { toCssText } from '../colour/format-color.ts';
import { cieLightness, toOklch } from '../colour/lightness.ts';
import type { CheckId } from '../samples/finding.ts';
import type { Paint } from '../samples/paint.ts';
import type { Sample } from '../samples/sample.ts';
import type { Case } from './case.ts';
import type { SeenPair } from './seen-pair.ts';
import type { World } from './world.ts';

/** A case with the colours that it would have. */
export interface Seen {
  readonly case: Case;
  readonly pairs: readonly SeenPair[];
  /** Token that would paint it, when the change gives it one. */
  readonly painted?: string;
  /** Selector of the element whose filter would be gone. */
  readonly cleared?: string;
}

/** A repair must clear its threshold by this factor, so that rounding to 8 bits does not undo it (ours; one code is worth at most 1 %). */
export const MARGIN = 1.01;

/** Checks that a kind of sample is under, whether or not they fired. */
export const DUTIES: Readonly<Record<Case['facts']['kind'], readonly CheckId[]>> = {
  text: ['text-contrast'],
  graphic: ['graphic-contrast'],
  surface: ['neon', 'flipped', 'separation'],
  shadow: ['glow'],
  picture: ['inverted-picture'],
};

/** @param margin 1 to judge what is, `MARGIN` to judge a repair */
export function fires(world: World, check: CheckId, now: Seen, reference: Seen | null, margin = 1): boolean {
  const { required } = now.case;
  if (required > 0 && (check === 'text-contrast' || check === 'graphic-contrast')) return lowest(now.pairs) < required * margin;
  const key = `${check} ${sightKey(now)} ${reference === null ? '' : sightKey(reference)}`;
  let known = world.memory.get(key);
  if (known === undefined) world.memory.set(key, (known = asked(world, check, now, reference)));
  return known;
}

function asked(world: World, check: CheckId, now: Seen, reference: Seen | null): boolean {
  const active = world.checks.get(check);
  const sample = sampleOf(now);
  if (active === undefined || sample === null) return false;
  return active.check.run(subjectOf(world, sample, now, reference), active.options).some((finding) => finding.key === sample.key);
}

/** Checks see 8-bit colours. */
function sightKey({ case: one, pairs, painted, cleared }: Seen): string {
  const code = ({ r, g, b }: Opaque): number => (Math.round(r * 255) << 16) + (Math.round(g * 255) << 8) + Math.round(b * 255);
  const [pair] = pairs;
  return `${one.id} ${pair === undefined ? '' : `${code(pair.fore)} ${code(pair.back)}`} ${painted ?? ''} ${cleared ?? ''}`;
}

/** Contrast at the worst place. */
export function lowest(pairs: readonly SeenPair[]): number {
  let least = Infinity;
  for (const { fore, back } of pairs) least = Math.min(least, contrastRatio({ ink: fore, background: back }));
  return least;
}

function subjectOf(world: World, sample: Sample, now: Seen, reference: Seen | null): Subject {
  const { themes } = world.index.table;
  const tone = themes[now.case.theme]?.tone ?? 'light';
  const { view } = now.case.place;
  return { view, tone, samples: [sample], reference: referenceOf(world, now, reference) };
}

function referenceOf(world: World, now: Seen, seen: Seen | null): Reference | null {
  const { themes, reference } = world.index.table;
  const theme = themes[reference];
  if (now.case.theme === reference || theme === undefined) return null;
  const sample = seen === null ? null : sampleOf(seen);
  // The same things painted elsewhere on another page stand for the same place: what they are painted with is equal.
  const find: Reference['find'] = (kind) => (sample !== null && isKind(sample, kind) ? sample : undefined);
  return { theme: theme.name, tone: theme.tone, samples: sample === null ? [] : [sample], find };
}

function isKind<K extends Sample['kind']>(sample: Sample, kind: K): sample is Extract<Sample, { readonly kind: K }> {
  return sample.kind === kind;
}

/** The case's own sample with other colours. */
function sampleOf({ case: one, pairs, painted, cleared }: Seen): Sample | null {
  const { sample } = one.place;
  if (sample?.kind === 'picture')
    return { ...sample, filters: sample.filters.filter(({ selector }) => selector !== cleared), luma: [] };
  const pair = pairs[0];
  if (sample === null || pair === undefined) return null;
  const { fore, back } = pair;
  const paintOf = (paint: Paint): Paint =>
    painted === undefined ? paint : { ...paint, origin: { kind: 'token', property: painted, alpha: 1 } };
  const color = toCssText(fore);
  const behind = toCssText(back);
  switch (sample.kind) {
    case 'text': {
      const contrast = lowest(pairs);
      return { ...sample, color, background: behind, contrast: { min: contrast, max: contrast }, ink: paintOf(sample.ink) };
    }
    case 'graphic':
      return { ...sample, color, against: behind, contrast: lowest(pairs), paint: paintOf(sample.paint) };
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
        // Small fills fire in sum; asked alone, one of a crowd must stand for all of it.
        area: one.findings.has('neon') ? 1 : sample.area,
        tone: toneOf(one, sample.tone, lightness),
        paint: paintOf(sample.paint),
      };
    }
    case 'shadow': {
      const chromaGain = toOklch(fore).chroma - toOklch(back).chroma;
      return {
        ...sample,
        color,
        beneath: behind,
        lightnessGain: cieLightness(fore) - cieLightness(back),
        chromaGain,
        paint: paintOf(sample.paint),
      };
    }
  }
}

/** L* between the tones; as long as a surface stays on its side it keeps the tone it was given. */
const MIDDLE_LIGHTNESS = 50;

function toneOf(one: Case, given: 'light' | 'dark', lightness: number): 'light' | 'dark' {
  const before = cieLightness(one.seenFore);
  const crossed = before < MIDDLE_LIGHTNESS !== lightness < MIDDLE_LIGHTNESS;
  return crossed ? (lightness < MIDDLE_LIGHTNESS ? 'dark' : 'light') : given;
}
