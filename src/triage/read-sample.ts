// One sample → what it says in the terms of a case: what was painted over what, how it looked, and what is asked of it.
import type { Paint, Layer } from '../samples/paint.ts';
import type { GraphicSample, Sample, ShadowSample, SurfaceSample, TextSample, Verdict } from '../samples/sample.ts';
import type { CaseFacts, Role } from './case.ts';

export type Painted = TextSample | SurfaceSample | ShadowSample | GraphicSample;

export interface Reading {
  readonly paint: Paint;
  readonly role: Role;
  readonly opacity: number;
  /** Null where the sample does not know what lies behind. */
  readonly layers: readonly Layer[] | null;
  readonly seenFore: string;
  /** Distinct; the first is that of the lowest contrast. */
  readonly seenBacks: readonly string[];
  /** Contrast asked for; 0 where none is. */
  readonly required: number;
  readonly facts: CaseFacts;
  readonly judged: boolean;
  /** Nobody sees it. */
  readonly hidden: boolean;
}

export function isPainted(sample: Sample): sample is Painted {
  return sample.kind !== 'picture';
}

/** Backgrounds kept of a varying backdrop. */
const MOST_BACKS = 8;
/** Reference on colour §4 N2: smaller areas do not glare. */
const GLARE_AREA_CSS_PX2 = 1500;
const GLARE_SIDE_CSS_PX = 16;
/** Reference on colour §5: harder shadows are rings. */
const SOFT_BLUR_CSS_PX = 2;

export function readSample(sample: Painted): Reading {
  switch (sample.kind) {
    case 'text':
      return {
        paint: sample.ink,
        role: 'ink',
        opacity: sample.inkOpacity,
        layers: sample.layers,
        seenFore: sample.color,
        seenBacks: backsOf(sample),
        required: sample.required ?? 0,
        facts: { kind: 'text', weighty: sample.large, edged: false },
        judged: isJudged(sample.verdict),
        hidden: sample.exempt === 'hidden',
      };
    case 'graphic':
      return {
        paint: sample.paint,
        role: GRAPHIC_ROLE[sample.role],
        opacity: sample.opacity,
        layers: sample.layers,
        seenFore: sample.color,
        seenBacks: [sample.against],
        required: sample.required ?? 0,
        facts: { kind: 'graphic', weighty: false, edged: false },
        judged: isJudged(sample.verdict),
        hidden: sample.exempt === 'hidden',
      };
    case 'surface':
      return {
        paint: sample.paint,
        role: 'surface',
        opacity: sample.opacity,
        layers: sample.layers,
        seenFore: sample.color,
        seenBacks: [sample.around],
        required: 0,
        facts: {
          kind: 'surface',
          ...(sample.stay === undefined ? {} : { stay: sample.stay }),
          weighty: isWeighty(sample),
          edged: sample.edge !== undefined,
        },
        judged: true,
        hidden: false,
      };
    case 'shadow':
      return {
        paint: sample.paint,
        role: 'shadow',
        opacity: 1,
        layers: null,
        seenFore: sample.color,
        seenBacks: [sample.beneath],
        required: 0,
        facts: { kind: 'shadow', weighty: sample.blur >= SOFT_BLUR_CSS_PX, edged: false },
        judged: true,
        hidden: false,
      };
  }
}

const GRAPHIC_ROLE = { icon: 'glyph', border: 'edge', focus: 'ring' } as const;

function backsOf({ background, backgroundSpread }: TextSample): readonly string[] {
  const [only] = backgroundSpread;
  if (backgroundSpread.length === 1 && only === background) return backgroundSpread;
  return [...new Set([background, ...backgroundSpread])].slice(0, MOST_BACKS);
}

function isJudged(verdict: Verdict): boolean {
  return verdict === 'pass' || verdict === 'fail' || verdict === 'mixed';
}

function isWeighty(sample: SurfaceSample): boolean {
  const [, , width, height] = sample.rect;
  return (
    sample.role !== 'picture' &&
    sample.role !== 'chart' &&
    width * height >= GLARE_AREA_CSS_PX2 &&
    Math.min(width, height) >= GLARE_SIDE_CSS_PX
  );
}
