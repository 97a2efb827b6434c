// The nights before: counts over time, and two runs side by side.
import { z } from 'zod';
import { byCheck, checkId, count, name } from './basics.ts';
import { finding, rankedCause } from './findings.ts';

export const night = z.strictObject({
  run: z.string(),
  at: z.string(),
  total: count,
  checks: byCheck,
  themes: z.record(z.string(), count).readonly(),
  owners: z.record(z.string(), count).readonly(),
  failed: count,
});
export const history = z.strictObject({ nights: z.array(night).readonly().meta({ description: 'Oldest first, at most 120.' }) });

export const compareQuery = z.strictObject({ a: name, b: name });
export const comparison = z.strictObject({
  a: z.string(),
  b: z.string(),
  rows: z
    .array(z.strictObject({ check: checkId, theme: z.string(), before: count, after: count, fresh: count, gone: count }))
    .readonly(),
  fresh: z.array(finding).readonly().meta({ description: 'In `b` but not in `a`; the first 60 at most.' }),
  freshTotal: count,
  gone: z.array(finding).readonly().meta({ description: 'In `a` but not in `b`; the first 60 at most.' }),
  goneTotal: count,
  viewsInBoth: count.meta({ description: 'Views that both runs judged: these alone are compared.' }),
  viewsInOne: count.meta({ description: 'Views of either run that not both judged.' }),
  causes: z.array(rankedCause).readonly().meta({ description: 'Causes of `b` that `a` did not have, at most 20.' }),
});

export type Night = z.infer<typeof night>;
export type History = z.infer<typeof history>;
export type Comparison = z.infer<typeof comparison>;
