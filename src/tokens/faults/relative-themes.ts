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
  const candidates = themes
    .filter((other) => other !== theme)
    .map((other) => {
      const compared = views.flatMap((view) => compare(view, theme, other) ?? []);
      return { theme: other, compared, mean: compared.reduce((sum, { apart }) => sum + apart, 0) / compared.length };
    })
    .filter(({ compared, mean }) => compared.length > settings.leastWitnesses && mean <= settings.relativeSteps)
    .sort((a, b) => a.mean - b.mean);
  return candidates[0] ?? null;
}

/** null where one of them is on no ramp, or they are on different ones. */
function compare(view: DefinitionView, theme: string, other: string): Compared | null {
  const [own, theirs] = [view.inTheme.get(theme), view.inTheme.get(other)];
  if (own?.ramp == null || theirs?.ramp == null || own.ramp.family !== theirs.ramp.family) return null;
  return { view, own, other: theirs, apart: Math.abs(own.ramp.index - theirs.ramp.index) };
}
