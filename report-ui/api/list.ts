// The one list of findings: how it is narrowed and grouped, its groups, and its rows by their place in it.
import { z } from 'zod';
import { after, checkId, count, level, name, next } from './basics.ts';
import { place } from './findings.ts';

export const GROUPINGS = ['cause', 'page', 'theme', 'owner', 'token', 'check', 'none'] as const;
/** `open`: new and known ones, which is what counts; the default. */
export const STANDINGS = ['open', 'new', 'known', 'exempt', 'all'] as const;

/** Members are joined by *and*. */
export const listFilter = z.strictObject({
  status: z.enum(STANDINGS).optional(),
  page: name.optional(),
  theme: name.optional(),
  state: name.optional(),
  viewport: name.optional(),
  owner: z.string().max(2_000).optional().meta({ description: '`-`: findings that nobody owns.' }),
  check: checkId.optional(),
  level: level.optional(),
  cause: name.optional().meta({ description: '`-`: findings without a cause.' }),
  token: name.optional().meta({ description: 'A token or step that the cause names, or that a fault of token files is about.' }),
  find: z
    .string()
    .max(400)
    .optional()
    .meta({ description: 'Part of a selector, of the element’s text, of the message, or a colour.' }),
});
export const listQuery = z.strictObject({ ...listFilter.shape, group: z.enum(GROUPINGS).optional(), after });

export const listGroup = z.strictObject({
  /** What the filter of the same name takes. */
  key: z.string(),
  title: z.string(),
  count,
  fresh: count,
  errors: count,
});
const facet = z.array(z.tuple([z.string(), count]).readonly()).readonly();
export const list = z.strictObject({
  total: count,
  fresh: count,
  errors: count,
  groups: z.array(listGroup).readonly().meta({ description: 'Largest first; pages and themes in the order of the plan.' }),
  groupsTotal: count,
  facets: z
    .strictObject({ status: facet, theme: facet, owner: facet, check: facet, level: facet })
    .meta({ description: 'How many there are of each value, under all other members of the filter.' }),
  next,
});

export const rowsQuery = z.strictObject({
  ...listFilter.shape,
  group: z.enum(GROUPINGS).optional(),
  from: z.coerce.number().int().min(0).max(10_000_000).optional(),
});
export const listRow = z.strictObject({
  ...place.shape,
  cause: z.string().nullable().meta({ description: 'What its cause is about.' }),
});
export const rows = z.strictObject({ from: count, rows: z.array(listRow).readonly(), total: count });

export type ListFilter = z.infer<typeof listFilter>;
export type List = z.infer<typeof list>;
export type ListGroup = z.infer<typeof listGroup>;
export type ListRow = z.infer<typeof listRow>;
export type Grouping = (typeof GROUPINGS)[number];
export type Standing = (typeof STANDINGS)[number];
