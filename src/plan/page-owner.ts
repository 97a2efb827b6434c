// Who looks after a page as a whole: what the page itself says, else the first rule that names pages and no selector.
import type { OwnerRule, Page } from './configuration.ts';
import { nameGlob } from './name-glob.ts';

export function pageOwner(page: Pick<Page, 'name' | 'path' | 'owner'>, rules: readonly OwnerRule[]): string | undefined {
  if (page.owner !== undefined) return page.owner;
  return rules.find(
    ({ pages, selector }) =>
      selector === undefined && (pages === undefined || [page.name, page.path].some((text) => nameGlob(pages).test(text))),
  )?.owner;
}
