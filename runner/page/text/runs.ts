// Makes text runs: what all sources of text have in common.
import { attentionOf, nameOf } from '../scene/attention.ts';
import { alphaOf } from '../places/colors.ts';
import { partedColors } from './first-parts.ts';
import type { UncoveredOf } from '../scene/covers.ts';
import { uncovered } from '../scene/covers.ts';
import { exemptions } from '../scene/exempt.ts';
import type { Grounds } from '../places/grounds.ts';
import { groundsOf } from '../places/grounds.ts';
import type { Identity } from '../scene/identity.ts';
import type { Ink } from './ink.ts';
import { scales } from './ink.ts';
import { markWith } from '../scene/marks.ts';
import type { Entry, Scene } from '../scene/scene.ts';
import type { Walk } from '../scene/walk.ts';
import type { Doubt, Rules, RunSource, WireMarks, WireRect, WireRun } from '../wire/wire.ts';

/** A run and where it is in the document, for showing it otherwise later. */
export interface FoundRun {
  readonly wire: WireRun;
  readonly entry: Entry;
  /** Its text node; null for generated and control text. */
  readonly node: Node | null;
}

export interface RunMaker {
  readonly scene: Scene;
  readonly grounds: Grounds;
  readonly identity: Identity;
  readonly found: FoundRun[];
  scaleOf(entry: Entry): number;
  add(run: NewRun): void;
}

export interface NewRun {
  readonly source: RunSource;
  readonly entry: Entry;
  /** Element that the text belongs to, where that is not the one it is laid out in (slots). */
  readonly place?: Entry;
  readonly node?: Node;
  readonly text: string;
  readonly rects: readonly WireRect[];
  readonly ground: number;
  readonly ink: Ink & Pick<WireRun, 'inkAlpha'>;
  /** Appended to selector and key. */
  readonly pseudo?: string;
  readonly exempt?: WireRun['exempt'];
}

/** Below this nobody sees anything (half of one 8-bit code). */
const UNSEEN_OPACITY = 1 / 510;

/** Elements in the state that the page is in, and the walk that they are a pass of. */
export interface Acting {
  readonly targets: readonly Element[];
  readonly walk: Walk;
}

export function runMaker(scene: Scene, identity: Identity, rules: Rules, { targets, walk }: Acting): RunMaker {
  const grounds = groundsOf(identity);
  const marksOf: (entry: Entry) => WireMarks = markWith(rules, attentionOf(scene));
  const exemptOf = exemptions(attentionOf(scene));
  const uncoveredOf: UncoveredOf = uncovered(scene);
  const found: FoundRun[] = [];
  const isParted = partedColors(scene);
  const parts = new Map<string, number>();
  // In a walk only the texts of the elements that are in the state now.
  const judged = new Set<Element | null>(targets);
  return {
    scene,
    grounds,
    identity,
    found,
    scaleOf: scales(),
    add: (run) => {
      if (run.rects.length === 0 || grounds.opacity(run.ground) < UNSEEN_OPACITY) return;
      // Transparent letters are seen by what is painted around or through them, or not at all.
      if (alphaOf(run.ink.ink) === 0 && run.ink.doubts === undefined) return;
      const { entry, place = entry, pseudo = '' } = run;
      if (walk.isOn() && !judged.has(walk.around(place.el))) return;
      const base = identity.keyOf(place) + pseudo;
      const part = (parts.get(base) ?? 0) + 1;
      parts.set(base, part);
      // In the flat tree: slotted text lies in what holds its slot as well.
      const free = uncoveredOf(entry, run.rects, run.ink.fontSize);
      const exempt =
        exemptOf(entry) ?? (free.by === undefined ? run.exempt : { reason: 'behind', why: `covered by ${nameOf(free.by)}` });
      const { ink } = run;
      const doubts: readonly Doubt[] = [
        ...(ink.doubts ?? []),
        ...(run.node !== undefined && isParted(entry) ? (['first-line'] as const) : []),
      ];
      const wire: WireRun = {
        source: run.source,
        text: run.text,
        selector: identity.selectorOf(place) + pseudo,
        key: part === 1 ? base : `${base}:${part}`,
        rects: free.by === undefined ? free.rects : run.rects,
        ground: run.ground,
        ...ink,
        ...(place === entry ? {} : { inkOn: identity.selectorOf(entry) }),
        ...(doubts.length === 0 ? {} : { doubts }),
        ...marksOf(place),
        ...(exempt === undefined ? {} : { exempt }),
      };
      found.push({ wire, entry, node: run.node ?? null });
    },
  };
}
