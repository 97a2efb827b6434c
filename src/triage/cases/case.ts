// A case: all samples of one theme that were painted by the same things in the same way, with how often they occur. Also what they are told by.
import type { BlendMode } from '../../colour/composite.ts';
import type { Color, Opaque } from '../../colour/color.ts';
import type { CheckId } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Fade, Sample, SampleKind } from '../../samples/sample.ts';
import type { Tone, ViewRef } from '../../samples/view.ts';
import type { PaintRef } from './paint-ref.ts';

/** What a colour is used as. `face`: what a control is filled with, where that tells it from the page. */
export type Role = 'ink' | 'surface' | 'edge' | 'ring' | 'glyph' | 'face' | 'shadow' | 'picture';

export interface CaseLayer {
  readonly ref: PaintRef;
  /** Translucent, all over it: what lightens a surface that is raised is no surface. */
  readonly tint?: Color;
  readonly opacity: number;
  readonly blend: BlendMode;
}

export interface CaseFilter {
  readonly selector: string;
  /** As computed, e.g. `invert(1)`. */
  readonly filter: string;
  /** The declaration first, then the hops; where it was looked up. */
  readonly written?: readonly WrittenPlace[];
}

/** One sample of a case, to show and to ask the checks about; always the first by view and key. */
export interface Example {
  readonly view: ViewRef;
  readonly sample: Sample | null;
}

export interface Case {
  /** Place in the list of cases; the list is sorted by `key`. */
  readonly id: number;
  readonly key: string;
  /** Equal in all themes for what is painted by the same tokens and literals. */
  readonly family: string;
  readonly theme: number;
  readonly role: Role;
  readonly fore: PaintRef;
  /** Opacity of the element and its ancestors, 0–1. */
  readonly foreOpacity: number;
  /** For shadows the share of the colour that arrives at the peak, 0–1; else 1. */
  readonly share: number;
  /** What lies behind, bottom first, from the topmost opaque layer up. */
  readonly back: readonly CaseLayer[];
  /** True when the colours seen are not those that the layers make: pictures, gradients, filters. Then only the seen ones count. */
  readonly foreFixed: boolean;
  readonly backFixed: boolean;
  readonly seenFore: Opaque;
  /** Filters over it, outermost last; what is seen went through them. */
  readonly filters: readonly CaseFilter[];
  /** The filters act on what lies behind only: a dialog above the page. */
  readonly isLifted: boolean;
  /** At least one; several where the backdrop varies. */
  readonly seenBacks: readonly Opaque[];
  /** Contrast asked for; 0 where none is. */
  readonly required: number;
  readonly facts: CaseFacts;
  /** False where no contrast is asked or none could be read: decoration, inactive, hidden. It still shows when a change alters it. */
  readonly judged: boolean;
  /** Checks whose findings there are exempt. */
  readonly exempt: ReadonlySet<CheckId>;
  /** Elements that paint the fore of surfaces and faces, and elements that paint the uppermost layer behind; as numbers, see `elementNumber`. */
  readonly elements: ReadonlySet<number>;
  readonly grounds: ReadonlySet<number>;
  /** How many samples it stands for, with and without findings. */
  readonly samples: number;
  /** Findings by check, as places in the list of findings. */
  readonly findings: ReadonlyMap<CheckId, readonly number[]>;
  /** Where the fore is written, by finding, for those that were looked up. */
  readonly written: ReadonlyMap<number, readonly WrittenPlace[]>;
  /** What fades it, by finding, where something does. */
  readonly faded: ReadonlyMap<number, Fade>;
  /** Where the fore is written at the first place that was looked up, with findings or without; empty where none was. */
  readonly wrote: readonly WrittenPlace[];
  readonly place: Example;
}

/** What decides besides the colours: where it is equal, checks say the same of equal colours. */
export interface CaseFacts {
  readonly kind: SampleKind;
  readonly stay?: Tone;
  /** A border or shadow tells it from its surroundings. */
  readonly edged: boolean;
  /** What each check makes of its size and shape. */
  readonly standing: string;
}
