// Search over the names of a run.
import { z } from 'zod';
import { count } from './basics.ts';

export const searchQuery = z.strictObject({ q: z.string().min(1).max(200) });
export const searchHit = z.strictObject({
  kind: z.enum(['token', 'page', 'cause', 'owner', 'theme', 'selector', 'colour', 'text']),
  /** What the screen of its kind takes. */
  key: z.string(),
  title: z.string(),
  note: z.string(),
  count: count.nullable().meta({ description: 'Open findings; null where they were not counted.' }),
});
export const search = z.strictObject({ hits: z.array(searchHit).readonly() });

export type SearchHit = z.infer<typeof searchHit>;
