// Pictures that differ from the accepted ones, grouped by what explains them, and the acts of accepting.
import { z } from 'zod';
import { count, after, hash, name, next, rect } from './basics.ts';

export const change = z.strictObject({
  view: z.string(),
  page: z.string(),
  theme: z.string(),
  state: z.string(),
  viewport: z.string(),
  accepted: hash.nullable().meta({ description: 'Null when nothing was accepted for the view yet.' }),
  now: hash,
  share: z.number().nullable().meta({ description: 'Share of pixels that differ, 0–1.' }),
  regions: z.array(rect).readonly(),
  widthCssPx: z.number(),
  heightCssPx: z.number(),
});
export const changeGroup = z.strictObject({
  id: z.string(),
  title: z.string(),
  explanation: z.string(),
  kind: z.enum(['first', 'token', 'content', 'unexplained']),
  total: count,
  changes: z.array(change).readonly(),
});
export const changeList = z.strictObject({ groups: z.array(changeGroup).readonly(), total: count, next });
export const changeQuery = z.strictObject({ after });

export const acceptance = z.strictObject({
  id: z.string(),
  at: z.string(),
  note: z.string(),
  views: count,
  undone: z.boolean(),
});
export const acceptanceList = z.strictObject({ acceptances: z.array(acceptance).readonly(), next });
export const acceptBody = z.strictObject({
  run: name,
  views: z.union([z.literal('all'), z.array(name).min(1).max(5_000)]),
  note: z.string().max(2_000).default(''),
});
export const undoBody = z.strictObject({ acceptance: name });

export type Change = z.infer<typeof change>;
export type ChangeGroup = z.infer<typeof changeGroup>;
export type ChangeList = z.infer<typeof changeList>;
export type Acceptance = z.infer<typeof acceptance>;
export type AcceptanceList = z.infer<typeof acceptanceList>;
