// Pictures that differ from the accepted ones, grouped by what explains them, and the acts of accepting.
import { z } from 'zod';
import { after, count, hash, name, next, rect } from './basics.ts';

export const change = z.strictObject({
  view: z.string(),
  page: z.string(),
  theme: z.string(),
  state: z.string(),
  viewport: z.string(),
  accepted: hash.nullable().meta({ description: 'Null when nothing was accepted for the view yet.' }),
  now: hash.nullable().meta({ description: 'Null when the plan has no such view any more.' }),
  share: z.number().nullable().meta({ description: 'Share of pixels that differ, 0–1.' }),
  regions: z.array(rect).readonly(),
  widthCssPx: z.number(),
  heightCssPx: z.number(),
  scale: z.number(),
});
export const changeGroup = z.strictObject({
  id: z.string(),
  title: z.string(),
  explanation: z.string().meta({ description: 'One sentence; empty where nothing explains the difference.' }),
  views: count,
});
export const changeGroups = z.strictObject({
  accepted: count.meta({ description: 'Views that have an accepted picture.' }),
  groups: z.array(changeGroup).readonly(),
  total: count.meta({ description: 'Views; one may stand in several groups.' }),
});
export const changeQuery = z.strictObject({ group: name, after });
export const changeList = z.strictObject({ changes: z.array(change).readonly(), total: count, next });

export const acceptance = z.strictObject({
  id: z.string(),
  at: z.string(),
  run: z.string().nullable(),
  who: z.string(),
  note: z.string(),
  views: count,
  undone: z.boolean(),
});
export const acceptanceList = z.strictObject({ acceptances: z.array(acceptance).readonly(), next });

export const acceptBody = z.strictObject({
  run: name,
  what: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('all') }),
    z.strictObject({ kind: z.literal('group'), group: name }),
    z.strictObject({ kind: z.literal('views'), views: z.array(name).min(1).max(1_000) }),
  ]),
  note: z.string().max(2_000).default(''),
});
export const undoBody = z.strictObject({ acceptance: name });

export type Change = z.infer<typeof change>;
export type ChangeGroup = z.infer<typeof changeGroup>;
export type Acceptance = z.infer<typeof acceptance>;
export type AcceptBody = z.infer<typeof acceptBody>;
