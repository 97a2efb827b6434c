// One sample → what it says in the terms of a case: what was painted over what, how it looked, and what is asked of it.
import type { Judge } from '../../checks/check.ts';
import { graphicContrastAsked, textContrastAsked } from '../../checks/contrast-asked.ts';
import type { ContrastLevel } from '../../colour/text-requirement.ts';
import type { Paint, Layer } from '../../samples/paint.ts';
import type { GraphicSample, Sample, ShadowSample, SurfaceSample, TextSample } from '../../samples/sample.ts';
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
  /** Checks whose findings there are exempt, joined by blanks; mostly empty. */
  readonly exempt: string;
  /** Nobody sees it. */
  readonly hidden: boolean;
}

export function isPainted(sample: Sample): sample is Painted {
  return sample.kind !== 'picture';
}

/** Backgrounds kept of a varying backdrop. */
const MOST_BACKS = 8;

export interface ReadWith {
  readonly level: ContrastLevel;
  /** In the order of the table. */
  readonly judges: readonly Judge[];
  /** Of the sample: see `Reading`. */
  readonly exempt: string;
}

export function readSample(sample: Painted, { level, judges, exempt }: ReadWith): Reading {
  const standing = judges.map((judge) => judge.standing(sample)).join('');
  switch (sample.kind) {
    case 'text':
      return {
        paint: sample.ink,
        role: 'ink',
        opacity: sample.inkOpacity,
        layers: sample.layers,
        seenFore: sample.color,
        seenBacks: backsOf(sample),
        required: textContrastAsked(sample, level) ?? 0,
        facts: { kind: 'text', standing, edged: false },
        judged: textContrastAsked(sample, level) !== null && sample.unread === undefined,
        exempt,
        hidden: sample.exempt === 'hidden',
      };
    case 'graphic':
      return {
        paint: sample.paint,
        role: graphicRole(sample),
        opacity: sample.opacity,
        layers: sample.layers,
        seenFore: sample.color,
        seenBacks: [sample.against],
        required: graphicContrastAsked(sample) ?? 0,
        facts: { kind: 'graphic', standing, edged: false },
        judged: graphicContrastAsked(sample) !== null,
        exempt,
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
          standing,
          edged: sample.edge !== undefined,
        },
        judged: true,
        exempt,
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
        facts: { kind: 'shadow', standing, edged: false },
        judged: true,
        exempt,
        hidden: false,
      };
  }
}

/** A control may be drawn, or filled (a track, a field without an outline), and so may its mark: what paints that is no colour of edges. */
export function graphicRole({ role, paint, key }: GraphicSample): 'glyph' | 'edge' | 'ring' | 'face' {
  if (role === 'focus') return 'ring';
  if (role === 'icon') return 'glyph';
  const isMark = key.endsWith('|inside');
  if (EDGES.test(paint.property)) return isMark && paint.property.startsWith('border') ? 'glyph' : 'edge';
  return isMark || paint.property !== 'background-color' ? 'glyph' : 'face';
}

/** What a background draws of a field without filling it is a line. */
const EDGES = /^(?:border|outline|box-shadow|background-image)/u;

function backsOf({ background, backgroundSpread }: TextSample): readonly string[] {
  const [only] = backgroundSpread;
  if (backgroundSpread.length === 1 && only === background) return backgroundSpread;
  return [...new Set([background, ...backgroundSpread])].slice(0, MOST_BACKS);
}

/** Where only the paint is wanted. */
export function ownPaint(sample: Painted): Paint {
  return sample.kind === 'text' ? sample.ink : sample.paint;
}
