// The selectors of the configuration that are matched inside a page.
import type { Configuration, Page } from '../src/plan/configuration.ts';
import { nameGlob } from '../src/plan/name-glob.ts';
import type { ViewRef } from '../src/samples/view.ts';
import type { Rules } from './page/wire.ts';

/** @param page owner rules of other pages are left out */
export function rulesFor(configuration: Configuration, page: Page): Rules {
  return {
    exempt: configuration.exempt.map((exemption) => exemption.selector),
    owners: configuration.owners.flatMap(({ pages, selector, owner }) =>
      selector !== undefined && (pages === undefined || [page.name, page.path].some((text) => nameGlob(pages).test(text)))
        ? [{ selector, owner }]
        : [],
    ),
    stay: configuration.stay,
    mask: configuration.mask,
  };
}

/**
 * Exemptions that lift the contrast requirement from text of a view, by index.
 * @param today YYYY-MM-DD; those that ended before are left out
 */
export function exemptFor(
  configuration: Configuration,
  view: ViewRef,
  today: string,
): ReadonlyMap<number, { logotype: boolean; why: string }> {
  const fits = (names: readonly string[] | undefined, name: string): boolean =>
    names === undefined || names.some((pattern) => nameGlob(pattern.replaceAll('*', '**')).test(name));
  const holding = configuration.exempt.flatMap(({ checks, until, logotype = false, why, pages, themes, states }, index) => {
    const inTime = until === undefined || until >= today;
    const holds = inTime && (checks === undefined || checks.includes('text-contrast'));
    if (!holds || !fits(pages, view.page) || !fits(themes, view.theme) || !fits(states, view.state)) return [];
    return [[index, { logotype, why }] as const];
  });
  return new Map(holding);
}
