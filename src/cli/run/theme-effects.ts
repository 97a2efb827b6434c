// Which themes changed a colour somewhere: one that never did was not put on, whatever its pages looked like.
import { isRecoloured } from '../../checks/recoloured.ts';
import type { JudgedView } from '../../checks/run-checks.ts';
import type { Theme } from '../../plan/configuration.ts';

/** A theme that changed no colour on any page it was compared on. */
export interface IdleTheme {
  readonly theme: Theme;
  readonly pages: number;
}

/** By theme: pages that it did not change; null where it changed one. */
export type EffectFacts = Readonly<Record<string, readonly string[] | null>>;

export interface ThemeEffects {
  /** @param group captured views of one page, state and viewport */
  add(group: readonly JudgedView[]): void;
  /** What was learnt elsewhere, about other groups. */
  join(facts: EffectFacts): void;
  facts(): EffectFacts;
  idle(): readonly IdleTheme[];
}

export function openThemeEffects(themes: readonly Theme[], reference: string): ThemeEffects {
  /** Pages without effect, by theme; null once there was one. */
  const without = new Map<string, Set<string> | null>();
  return {
    add(group) {
      const base = group.find(({ view }) => view.theme === reference);
      if (base === undefined) return;
      for (const { view, samples } of group) {
        const pages = without.get(view.theme) ?? new Set();
        if (view.theme === reference || without.get(view.theme) === null) continue;
        without.set(view.theme, isRecoloured(samples, base.samples) ? null : pages.add(view.page));
      }
    },
    join(facts) {
      for (const [theme, pages] of Object.entries(facts)) {
        const known = without.get(theme);
        without.set(theme, pages === null || known === null ? null : new Set([...(known ?? []), ...pages]));
      }
    },
    facts: () => Object.fromEntries([...without].map(([theme, pages]) => [theme, pages === null ? null : [...pages]])),
    idle: () =>
      themes.flatMap((theme) => {
        const pages = without.get(theme.name);
        return pages === undefined || pages === null || mayBeAlike(theme) ? [] : [{ theme, pages: pages.size }];
      }),
  };
}

/** Less motion is no other look. */
function mayBeAlike({ alike, apply }: Theme): boolean {
  const { media, ...others } = apply;
  const isOfMotion = media !== undefined && Object.keys(media).every((feature) => feature === 'reducedMotion');
  return alike === true || (isOfMotion && Object.keys(others).every((name) => name === 'reload'));
}
