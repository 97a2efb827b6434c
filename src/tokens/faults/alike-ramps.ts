// Steps of different ramps that nobody can tell apart: teams end with many reds, and each change has to be made in all of them.
import { deltaE2000 } from '../../colour/lightness.ts';
import type { TokenGraph } from '../graph.ts';
import type { StepView } from './ramp-view.ts';
import { rampViews } from './ramp-view.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed, mergeThemes, shown } from './token-fault.ts';

export interface AlikeOptions {
  /** As for twins within a ramp. */
  readonly twinDeltaE?: number;
  readonly twinDeltaEOk?: number;
  /** Ends of ramps meet near white and black; below this OKLCH chroma and outside these L* that is no fault. */
  readonly endChroma?: number;
  readonly endLight?: number;
  readonly endDark?: number;
}

/** Ends: ours, as the first and last steps of most ramps lie there. */
export const ALIKE_DEFAULTS = {
  twinDeltaE: 2,
  twinDeltaEOk: 0.02,
  endChroma: 0.03,
  endLight: 92,
  endDark: 15,
} as const satisfies Required<AlikeOptions>;

/** CIEDE2000 below 2 means less than this apart in L*: its weight of lightness is at most 1.75 (ISO/CIE 11664-6). */
const LIGHTNESS_WINDOW = 3.5;

interface Member {
  readonly step: StepView;
  readonly family: string;
}

export function alikeRamps(graph: TokenGraph, options: AlikeOptions = {}): readonly FaultFacts[] {
  const settings: Required<AlikeOptions> = { ...ALIKE_DEFAULTS, ...options };
  const views = rampViews(graph);
  return mergeThemes(
    graph.themes.flatMap((theme) => {
      const members = views
        .filter((view) => view.theme === theme)
        .flatMap(({ ramp, steps }) => steps.map((step) => ({ step, family: ramp.family })))
        .filter(({ step }) => !isEnd(step, settings))
        .sort((a, b) => a.step.lightness - b.step.lightness);
      return clusters(members, settings).map((cluster) => toFault(cluster, theme, settings));
    }),
  );
}

function isEnd({ lightness, oklch }: StepView, settings: Required<AlikeOptions>): boolean {
  return oklch.chroma < settings.endChroma && (lightness > settings.endLight || lightness < settings.endDark);
}

/** All members of one colour: whatever one of them is like, the others are. */
interface Shade {
  readonly step: StepView;
  readonly families: Set<string>;
  readonly members: Member[];
}

/**
 * Members that hang together, each within reach of another of a different family. Sets have thousands of steps: each colour is held
 * once, and only against those of the cells of OKLab around it. @param members by lightness
 */
function clusters(members: readonly Member[], settings: Required<AlikeOptions>): readonly (readonly Member[])[] {
  const shades = shadesOf(members);
  const parent = shades.map((_, i) => i);
  const rootOf = (i: number): number => {
    let at = i;
    for (let above = parent[at]; above !== undefined && above !== at; above = parent[at]) {
      // Half of the way is saved for who comes next.
      parent[at] = parent[above] ?? above;
      at = above;
    }
    return at;
  };
  const cells = new Map<string, number[]>();
  for (const [i, shade] of shades.entries()) {
    const cell = cellOf(shade, settings);
    for (const near of around(cell)) {
      for (const j of cells.get(near) ?? []) {
        const other = shades[j];
        if (other === undefined || rootOf(i) === rootOf(j) || isOneFamily(shade, other)) continue;
        if (isAlike(shade.step, other.step, settings)) parent[rootOf(i)] = rootOf(j);
      }
    }
    const here = cells.get(cell.join(' '));
    if (here === undefined) cells.set(cell.join(' '), [i]);
    else here.push(i);
  }
  const groups = new Map<number, Shade[]>();
  for (const [i, shade] of shades.entries()) {
    const group = groups.get(rootOf(i));
    if (group === undefined) groups.set(rootOf(i), [shade]);
    else group.push(shade);
  }
  return [...groups.values()]
    .filter((group) => new Set(group.flatMap(({ families }) => [...families])).size > 1)
    .map((group) => group.flatMap((shade) => shade.members));
}

function shadesOf(members: readonly Member[]): readonly Shade[] {
  const shades = new Map<string, Shade>();
  for (const member of members) {
    const key = member.step.okLab.join(' ');
    const shade = shades.get(key) ?? { step: member.step, families: new Set(), members: [] };
    shade.families.add(member.family);
    shade.members.push(member);
    shades.set(key, shade);
  }
  return [...shades.values()];
}

function isOneFamily(a: Shade, b: Shade): boolean {
  const [one] = a.families;
  return a.families.size === 1 && b.families.size === 1 && one !== undefined && b.families.has(one);
}

type Cell = readonly [number, number, number];

/** Cells are as wide as a twin reaches: what is alike lies in the same one or a neighbour. */
function cellOf({ step: { okLab } }: Shade, { twinDeltaEOk }: Required<AlikeOptions>): Cell {
  const along = (value: number): number => Math.floor(value / twinDeltaEOk);
  return [along(okLab[0]), along(okLab[1]), along(okLab[2])];
}

const STEPS = [-1, 0, 1] as const;

function around([l, a, b]: Cell): readonly string[] {
  return STEPS.flatMap((dl) => STEPS.flatMap((da) => STEPS.map((db) => `${String(l + dl)} ${String(a + da)} ${String(b + db)}`)));
}

function isAlike(a: StepView, b: StepView, settings: Required<AlikeOptions>): boolean {
  if (Math.abs(b.lightness - a.lightness) > LIGHTNESS_WINDOW) return false;
  const [p, q] = [a.okLab, b.okLab];
  // ΔE OK is a plain distance; it spares the dearer formula for most pairs.
  const near = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) < settings.twinDeltaEOk;
  return near && deltaE2000(a.color, b.color) < settings.twinDeltaE;
}

function toFault(cluster: readonly Member[], theme: string, settings: Required<AlikeOptions>): FaultFacts {
  const paths = cluster.map(({ step }) => step.path).sort();
  const [token = '', ...others] = paths;
  const most = widest(cluster);
  const say = most < settings.twinDeltaE ? 'are all but one colour' : 'lie so close that neighbours among them look the same';
  return {
    code: 'ramps-alike',
    token,
    others,
    themes: [theme],
    measured: { deltaE: most, tokens: paths.length },
    expected: { deltaEAtLeast: settings.twinDeltaE },
    message: `${listed(paths)} ${say} (CIEDE2000 at most ${shown(most)}): fewer would do.`,
  };
}

/** Largest difference from the first member: enough to say how wide a cluster is, and quick for large ones. */
function widest(cluster: readonly Member[]): number {
  const [first] = cluster;
  return first === undefined ? 0 : cluster.reduce((most, { step }) => Math.max(most, deltaE2000(first.step.color, step.color)), 0);
}
