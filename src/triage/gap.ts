// A token that is missing: the places that nothing in the set serves, and what the missing token must be in every theme.
import type { Color, Opaque } from '../colour/color.ts';
import { contrastRatio, relativeLuminance } from '../colour/contrast-ratio.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { scoreOf, weightIn } from './candidate.ts';
import type { Case } from './case.ts';
import { compositeFore } from './composite-layers.ts';
import { MARGIN } from './judge.ts';
import { nearbyColors } from './nearby-colors.ts';
import type { Fault } from './world.ts';

/** A new token is the last thing to ask for; where nothing of the set would do, the first (ours, on planted faults). */
const BASE = { hopeless: 0.75, unnatural: 1.8, served: 4 } as const;

/** @param faults on one surface or of one family: what one new token would serve */
export function proposeGap(ground: Ground, key: string, faults: readonly Fault[]): Proposal {
  return { key: `gap ${key}`, propose: (isOpen) => tryGap(ground, isOpen, faults) };
}

function tryGap(ground: Ground, isOpen: IsOpen, faults: readonly Fault[]): Candidate | null {
  // Where opacity takes the contrast away, no token can give it back.
  const open = faults.filter((fault) => isOpen(fault) && isContrast(fault) && fault.case.foreOpacity === 1);
  const gain = weightIn(open, isOpen);
  if (gain === 0) return null;
  const cases = [...new Set(open.map((fault) => fault.case))];
  const served = serviceOf(ground, cases);
  const evidence: Evidence = served === 'hopeless' ? { hopeless: true } : {};
  const base = BASE[served];
  return {
    change: { kind: 'add', cases: cases.map((one) => one.id) },
    recoloring: { touched: [], colorOf: () => undefined },
    outcome: { mended: open, broken: [], unsure: [], gain, bystanders: 0, harm: 0 },
    layer: 'gap',
    base,
    size: 0,
    evidence,
    score: scoreOf({ gain, bystanders: 0, harm: 0, base, size: 0 }),
  };
}

export function isContrast(fault: Fault): boolean {
  return (fault.check === 'text-contrast' || fault.check === 'graphic-contrast') && fault.case.required > 0;
}

/** Does any token read in all these places? */
function serviceOf(ground: Ground, cases: readonly Case[]): 'hopeless' | 'unnatural' | 'served' {
  const { index } = ground.world;
  const [first] = cases;
  if (first === undefined) return 'served';
  const reads = (token: number): boolean =>
    cases.every((one) => {
      const color = index.colorOf(one.theme, token);
      return color !== null && one.seenBacks.every((back) => contrastOver(color, back) >= one.required);
    });
  const all = index.table.tokens.map((_, token) => token);
  // A step may be right in one theme and wrong in the next; what a place can use is a token.
  const used = [...ground.usage.as(first.role).keys()];
  if (used.some(reads)) return 'served';
  return all.some((token) => index.stepOf(token) === null && reads(token)) ? 'unnatural' : 'hopeless';
}

function contrastOver(color: Color, back: Opaque): number {
  return contrastRatio({ ink: compositeFore(color, { opacity: 1, share: 1 }, back), background: back });
}

/** What the missing token must be in one theme. */
export interface Demand {
  readonly theme: number;
  /** The hardest of the surfaces it lies on. */
  readonly on: Opaque;
  readonly contrast: number;
  /** The colour nearest to the present one that reads there; null when none does, not even black or white. */
  readonly suggestion: Color | null;
}

/** One for each theme in which the places exist, whether or not they fail there. */
export function demandsOf(ground: Ground, cases: readonly Case[]): readonly Demand[] {
  const families = new Set(cases.map((one) => one.family));
  const all = [...families].flatMap((family) => {
    const one = cases.find((each) => each.family === family);
    return one === undefined ? [] : ground.world.familyOf(one);
  });
  return ground.world.index.table.themes.flatMap((_, theme) => {
    const here = all.filter((one) => one.theme === theme);
    const [first] = here;
    if (first === undefined) return [];
    const contrast = Math.max(...here.map((one) => one.required));
    const backs = here.flatMap((one) => one.seenBacks);
    const color = first.fore.color;
    const reads = (tried: Color): boolean =>
      here.every((one) => one.seenBacks.every((back) => contrastOver(tried, back) >= one.required * MARGIN));
    const suggestion = reads(color)
      ? color
      : (nearbyColors({ ...color, alpha: 1 }, false).find((tried) => reads(tried.color))?.color ?? null);
    return [{ theme, on: hardest(backs) ?? first.seenFore, contrast, suggestion }];
  });
}

/** On a middling surface least contrast is to be had: √((1 + .05) × .05) − .05 is the middle of the scale (derived). */
const MIDDLE_LUMINANCE = 0.1791;

function hardest(backs: readonly Opaque[]): Opaque | null {
  const off = (color: Opaque): number => Math.abs(Math.log((relativeLuminance(color) + 0.05) / (MIDDLE_LUMINANCE + 0.05)));
  return backs.toSorted((one, other) => off(one) - off(other))[0] ?? null;
}
