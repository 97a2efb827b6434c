// What a store holds: its runs, and one run with the names its views are made of.
import { z } from 'zod';
import { byCheck, checkId, count, next, tone } from './basics.ts';

export const session = z.strictObject({
  form: z.enum(['live', 'site']).meta({ description: '`site` when the answers were written to a folder.' }),
  readOnly: z.boolean(),
  token: z
    .string()
    .nullable()
    .meta({ description: 'To be sent as `x-gloam-token` with every change; null when nothing can be changed.' }),
  gloam: z.string(),
  newest: z.string().nullable().meta({ description: 'Id of the last run.' }),
  runs: count,
  checks: z.array(z.strictObject({ id: checkId, title: z.string() })).readonly(),
  sharp: z.boolean().meta({ description: 'Whether scaled pictures and crops are served.' }),
});

export const runStatus = z.enum(['running', 'finished']);

export const runSummary = z.strictObject({
  id: z.string(),
  startedAt: z.string(),
  finishedAt: z.string().nullable(),
  status: runStatus,
  views: count,
  failed: count,
  planned: count.nullable(),
  whole: z.boolean().meta({ description: 'False where the plan was narrowed, divided or cut short: it says nothing of the rest.' }),
  findings: byCheck,
});

export const runList = z.strictObject({ runs: z.array(runSummary).readonly(), next });

export const run = z.strictObject({
  ...runSummary.shape,
  gloam: z.string(),
  browser: z.string(),
  reference: z.string(),
  previous: z.string().nullable().meta({ description: 'The run it is compared with: the finished one before.' }),
  scope: z
    .strictObject({
      narrowed: z.boolean(),
      cut: z.boolean(),
      part: z.strictObject({ index: count, of: count }).nullable(),
      looked: count.meta({ description: 'Views it captured and judged.' }),
      unlooked: count.meta({ description: 'Views of its plan that failed or that it did not come to.' }),
      pages: count.meta({ description: 'Pages of its plan.' }),
    })
    .meta({ description: 'What it looked at: of the rest it says nothing.' }),
  themes: z.array(z.strictObject({ name: z.string(), tone })).readonly(),
  states: z.array(z.string()).readonly(),
  viewports: z.array(z.string()).readonly(),
  owners: z.array(z.string()).readonly(),
});

export type Session = z.infer<typeof session>;
export type RunSummary = z.infer<typeof runSummary>;
export type Run = z.infer<typeof run>;
