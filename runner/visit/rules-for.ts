// The selectors of the configuration that are matched inside a page.
import type { Configuration, Page } from '../../src/plan/configuration.ts';
import { nameGlob } from '../../src/plan/name-glob.ts';
import type { Rules } from '../page/wire/wire.ts';

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
