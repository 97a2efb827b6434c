// Faults of definitions, told from siblings: tokens of the same group, and the same token in other themes. What is right cannot be
// known from the files alone; each of these is a token that does not do as its siblings do.
import { toCssText } from '../../colour/format-color.ts';
import type { Lab } from '../../colour/lightness.ts';
import { deltaE2000OfLab, toLab65 } from '../../colour/lightness.ts';
import type { TokenGraph } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import type { DefinitionView, ThemeDefinition } from './definition-view.ts';
import { definitionViews } from './definition-view.ts';
import { missingOverrides } from './missing-overrides.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed, mergeThemes, shown } from './token-fault.ts';

export interface DefinitionOptions {
  /** Share of the siblings that must do alike before the odd one is named. */
  readonly siblingShare?: number;
  /** At least so many of them; one is enough in a theme that turns nearly everything. */
  readonly leastSiblings?: number;
  /** Share of all tokens with a value of their own that makes such a theme. */
  readonly turnedShare?: number;
}

/** Ours: two of three siblings is the smallest group in which one can be called the odd one. */
export const DEFINITION_DEFAULTS = {
  siblingShare: 0.6,
  leastSiblings: 2,
  turnedShare: 0.8,
} as const satisfies Required<DefinitionOptions>;

/** @param reference the theme the others are compared with */
export function definitionFaults(graph: TokenGraph, reference: string, options: DefinitionOptions = {}): readonly FaultFacts[] {
  const settings: Required<DefinitionOptions> = { ...DEFINITION_DEFAULTS, ...options };
  const views = definitionViews(graph);
  const groups = groupBy(views, ({ group }) => group);
  const nearestStep = stepFinder(graph);
  return mergeThemes([
    ...views.flatMap((view) => missingTokens(graph, view)),
    ...missingOverrides(graph, reference, settings),
    ...[...groups.values()].flatMap((group) => graph.themes.flatMap((theme) => literals(nearestStep, group, theme, settings))),
  ]);
}

/** A token that some themes do not have at all: a page in those themes falls back to whatever is inherited. */
function missingTokens(graph: TokenGraph, view: DefinitionView): readonly FaultFacts[] {
  const has = graph.tokens.get(view.path)?.themes ?? [];
  const lacks = graph.themes.filter((theme) => !has.includes(theme));
  if (lacks.length === 0) return [];
  return [
    {
      code: 'token-missing',
      token: view.path,
      others: [],
      themes: lacks,
      measured: { themes: has.join(', ') },
      expected: { themes: graph.themes.join(', ') },
      message: `${view.path} is defined in ${listed(has)} but not in ${listed(lacks)}.`,
    },
  ];
}

function literals(
  nearestStep: StepFinder,
  group: readonly DefinitionView[],
  theme: string,
  settings: Required<DefinitionOptions>,
): readonly FaultFacts[] {
  const here = group.flatMap((view) => {
    const definition = view.inTheme.get(theme);
    return definition === undefined ? [] : [{ view, definition }];
  });
  const aliases = here.filter(({ definition }) => definition.aliases);
  return here.flatMap(({ view, definition }): readonly FaultFacts[] => {
    const siblings = here.length - 1;
    if (definition.aliases || aliases.length < settings.leastSiblings || aliases.length < settings.siblingShare * siblings)
      return [];
    const near = nearestStep(definition);
    const hint = near === null ? '' : ` The nearest step is ${near.path} (CIEDE2000 ${shown(near.deltaE)}).`;
    return [
      {
        code: 'literal-among-aliases',
        token: view.path,
        others: near === null ? [] : [near.path],
        themes: [theme],
        measured: { color: toCssText(definition.color), ...(near === null ? {} : { deltaE: near.deltaE }) },
        expected: { siblingsAlias: aliases.length, siblings },
        message: `${view.path} has a colour of its own (${toCssText(definition.color)}) in ${theme}, while ${String(aliases.length)} of its ${String(siblings)} siblings refer to other tokens.${hint}`,
      },
    ];
  });
}

/** CIEDE2000 is at least the difference in L* over this: its weight of lightness is at most 1.75 (ISO/CIE 11664-6). */
const LIGHTNESS_WEIGHT = 1.75;

type StepFinder = (definition: ThemeDefinition) => { readonly path: string; readonly deltaE: number } | null;

/** Literals may be many, and so may steps: each is converted once, and most steps are told by their lightness. */
function stepFinder(graph: TokenGraph): StepFinder {
  const stepsIn = new Map<string, readonly { readonly path: string; readonly alpha: number; readonly lab: Lab }[]>();
  const stepsOf = (theme: string): ReturnType<typeof measured> => {
    const known = stepsIn.get(theme) ?? measured(theme);
    stepsIn.set(theme, known);
    return known;
  };
  const measured = (theme: string): readonly { readonly path: string; readonly alpha: number; readonly lab: Lab }[] =>
    graph.ramps.flatMap(({ steps }) =>
      steps.flatMap((path) => {
        const color = graph.colorOf(path, theme);
        return color === null ? [] : [{ path, alpha: color.alpha, lab: toLab65(color) }];
      }),
    );
  return ({ theme, color }) => {
    const own = toLab65(color);
    let nearest: { path: string; deltaE: number } | null = null;
    for (const { path, alpha, lab } of stepsOf(theme)) {
      if (alpha !== color.alpha) continue;
      if (nearest !== null && Math.abs(lab.lightness - own.lightness) > LIGHTNESS_WEIGHT * nearest.deltaE) continue;
      const deltaE = deltaE2000OfLab(own, lab);
      if (nearest === null || deltaE < nearest.deltaE) nearest = { path, deltaE };
    }
    return nearest;
  };
}
