// Themes that are near relatives (two dark ones, say) choose nearly the same steps; a token that does not is out of line.
import type { DefinitionView, ThemeDefinition } from './definition-view.ts';
import type { FaultFacts } from './token-fault.ts';

interface Settings {
  readonly leastWitnesses: number;
  readonly stepsOff: number;
  readonly relativeSteps: number;
}

interface Compared {
  readonly view: DefinitionView;
  readonly own: ThemeDefinition;
  readonly other: ThemeDefinition;
  /** Steps between them in one ramp. */
  readonly apart: number;
}

export function relativeFaults(
  themes: readonly string[],
  views: readonly DefinitionView[],
  settings: Settings,
): readonly FaultFacts[] {
  return themes.flatMap((theme) => {
    const relative = nearestRelative(themes, views, theme, settings);
    if (relative === null) return [];
    return relative.compared
      .filter(({ view, apart }) => apart >= settings.stepsOff && isOddEverywhere(themes, view, theme, settings))
      .map(({ view, own, other }) => ({
        code: 'alias-out-of-line',
        token: view.path,
        others: [other.step],
        themes: [theme],
        measured: { step: own.step },
        expected: { step: other.step, likeTheme: relative.theme },
        message: `${view.path} is ${own.step} in ${theme} but ${other.step} in ${relative.theme}; otherwise the two themes choose nearly the same steps.`,
      }));
  });
}

/** Of two relatives that differ, the odd one is the one that differs from every other theme too. */
function isOddEverywhere(themes: readonly string[], view: DefinitionView, theme: string, settings: Settings): boolean {
  const compared = themes.filter((other) => other !== theme).flatMap((other) => compare(view, theme, other) ?? []);
  return compared.length > 1 && compared.every(({ apart }) => apart >= settings.stepsOff);
}

function nearestRelative(
  themes: readonly string[],
  views: readonly DefinitionView[],
  theme: string,
  settings: Settings,
): { readonly theme: string; readonly compared: readonly Compared[] } | null {
  const [nearest] = themes
    .filter((other) => other !== theme)
    .map((other) => ({ theme: other, ...meanApart(views, theme, other) }))
    .filter(({ compared, mean }) => compared > settings.leastWitnesses && mean <= settings.relativeSteps)
    .sort((a, b) => a.mean - b.mean);
  if (nearest === undefined) return null;
  return { theme: nearest.theme, compared: views.flatMap((view) => compare(view, theme, nearest.theme) ?? []) };
}

/** Every theme is held against every other: nothing is kept but two numbers. */
function meanApart(
  views: readonly DefinitionView[],
  theme: string,
  other: string,
): { readonly compared: number; readonly mean: number } {
  let [sum, compared] = [0, 0];
  for (const { inTheme } of views) {
    const apart = stepsApart(inTheme.get(theme), inTheme.get(other));
    if (apart === null) continue;
    sum += apart;
    compared += 1;
  }
  return { compared, mean: sum / compared };
}

function compare(view: DefinitionView, theme: string, other: string): Compared | null {
  const [own, theirs] = [view.inTheme.get(theme), view.inTheme.get(other)];
  const apart = stepsApart(own, theirs);
  return own === undefined || theirs === undefined || apart === null ? null : { view, own, other: theirs, apart };
}

/** null where one of them is on no ramp, or they are on different ones. */
function stepsApart(own: ThemeDefinition | undefined, other: ThemeDefinition | undefined): number | null {
  if (own?.ramp == null || other?.ramp == null || own.ramp.family !== other.ramp.family) return null;
  return Math.abs(own.ramp.index - other.ramp.index);
}
