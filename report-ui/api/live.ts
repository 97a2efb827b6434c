// Events of the stream `/api/events` (server-sent events), and the errors of every answer.
import { z } from 'zod';
import { count } from './basics.ts';

export const progress = z.strictObject({
  run: z.string(),
  captured: count,
  failed: count,
  planned: count.nullable(),
});
export const liveEvent = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('progress'), ...progress.shape }),
  z.strictObject({ kind: z.literal('finished'), run: z.string() }),
  z.strictObject({ kind: z.literal('accepted') }),
]);

export const failure = z.strictObject({ error: z.string(), code: z.string(), hint: z.string() });

export type LiveEvent = z.infer<typeof liveEvent>;
export type Failure = z.infer<typeof failure>;
