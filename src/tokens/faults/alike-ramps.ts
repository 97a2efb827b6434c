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

/** Members that hang together, each within reach of another of a different family. @param members by lightness */
function clusters(members: readonly Member[], settings: Required<AlikeOptions>): readonly (readonly Member[])[] {
  const parent = members.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    for (let above = parent[root]; above !== undefined && above !== root; above = parent[root]) root = above;
    return root;
  };
  for (const [i, a] of members.entries()) {
    for (let j = i + 1; j < members.length; j += 1) {
      const b = members[j];
      if (b === undefined || b.step.lightness - a.step.lightness > LIGHTNESS_WINDOW) break;
      if (a.family === b.family || !alike(a, b, settings)) continue;
      parent[rootOf(j)] = rootOf(i);
    }
  }
  const groups = new Map<number, Member[]>();
  for (const [i, member] of members.entries()) {
    const root = rootOf(i);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [member]);
    else group.push(member);
  }
  return [...groups.values()].filter((group) => group.length > 1);
}

function alike(a: Member, b: Member, settings: Required<AlikeOptions>): boolean {
  const [p, q] = [a.step.okLab, b.step.okLab];
  // ΔE OK is a plain distance; it spares the dearer formula for most pairs.
  const near = Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) < settings.twinDeltaEOk;
  return near && deltaE2000(a.step.color, b.step.color) < settings.twinDeltaE;
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
