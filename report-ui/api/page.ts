// One page of the app under test: its views in all themes, states and viewports.
import { z } from 'zod';
import { count, hash, name } from './basics.ts';

export const pageQuery = z.strictObject({ page: name });

export const viewNote = z.strictObject({
  code: z.string(),
  at: z.string().exactOptional().meta({ description: 'A selector, an address or a name in the page.' }),
  words: z.string(),
});

export const pageView = z.strictObject({
  id: z.string(),
  theme: z.string(),
  state: z.string(),
  viewport: z.string(),
  url: z.string(),
  status: z.enum(['planned', 'captured', 'failed']),
  error: z.string().exactOptional(),
  shot: hash.nullable(),
  title: z.string(),
  widthCssPx: z.number(),
  heightCssPx: z.number(),
  scale: z.number(),
  ms: z.number(),
  findings: count,
  notes: z.array(viewNote).readonly(),
});

export const page = z.strictObject({
  page: z.string(),
  owner: z.string().nullable(),
  before: z.string().nullable().meta({ description: 'Page before it in the plan.' }),
  after: z.string().nullable(),
  views: z.array(pageView).readonly(),
});

export type PageView = z.infer<typeof pageView>;
export type PageAnswer = z.infer<typeof page>;
