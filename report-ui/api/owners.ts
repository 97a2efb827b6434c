// Who has what: findings now, how that changed, what is new and mended, what was handed on to them.
import { z } from 'zod';
import { count } from './basics.ts';
import { given } from './queue.ts';

export const ownerRow = z.strictObject({
  /** `-`: nobody. */
  owner: z.string(),
  open: count,
  errors: count,
  fresh: count,
  gone: count.meta({ description: 'Mended since the run before.' }),
  before: count
    .nullable()
    .meta({ description: 'Open findings of the newest whole run that is 14 days older; null where there is none.' }),
  trend: z
    .array(z.tuple([z.string(), count]).readonly())
    .readonly()
    .meta({ description: '`[start of the run, open findings]`, oldest first, at most 30.' }),
  handed: z.array(given).readonly().meta({ description: 'Causes handed on to them that hold.' }),
});
export const owners = z.strictObject({ rows: z.array(ownerRow).readonly(), days: count });

export type OwnerRow = z.infer<typeof ownerRow>;
export type Owners = z.infer<typeof owners>;
