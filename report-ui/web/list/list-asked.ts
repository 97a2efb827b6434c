// The list's question as it stands in the address.
import type { AskedQuery } from '../../api/endpoints.ts';
import type { Grouping, ListFilter } from '../../api/list.ts';
import { href } from '../route.ts';
import type { Query } from '../route.ts';
import { siteForm } from '../site-files.ts';

export type ListAsked = Omit<AskedQuery<'list'>, 'after'>;

export const GROUP_WORDS = {
  cause: 'by cause',
  page: 'by page',
  theme: 'by theme',
  owner: 'by owner',
  token: 'by token',
  check: 'by check',
  none: 'in one row',
} as const satisfies Record<Grouping, string>;

/** In this order they stand in the tools and in chips. */
export const FILTERS = [
  'status',
  'theme',
  'owner',
  'check',
  'level',
  'page',
  'state',
  'viewport',
  'cause',
  'token',
  'find',
] as const;

const STANDINGS = ['open', 'new', 'known', 'exempt', 'all'] as const;
const LEVELS = ['error', 'warning', 'note'] as const;

export function readAsked(query: Query): ListAsked {
  const group = Object.keys(GROUP_WORDS).find((name): name is Grouping => name === query['group']);
  const status = STANDINGS.find((name) => name === query['status']);
  const level = LEVELS.find((name) => name === query['level']);
  const plain = ['theme', 'owner', 'check', 'page', 'state', 'viewport', 'cause', 'token', 'find'] as const;
  return {
    ...(group === undefined || group === 'cause' ? {} : { group }),
    ...(status === undefined || status === 'open' ? {} : { status }),
    ...(level === undefined ? {} : { level }),
    ...Object.fromEntries(plain.flatMap((name) => (query[name] === undefined || query[name] === '' ? [] : [[name, query[name]]]))),
  };
}

/** The way to the list, so narrowed. A report opened from disk has no list: there the sheet of the cause or the page stands for it. */
export function listHref(run: string, filter: ListFilter & { readonly group?: Grouping }): string {
  if (!siteForm()) return href('findings', { run, ...filter });
  if (filter.page !== undefined)
    return href('page', { run, page: filter.page, theme: filter.theme, state: filter.state, viewport: filter.viewport });
  return href('causes', { run, cause: filter.cause, theme: filter.theme });
}
