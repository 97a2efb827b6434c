// Parts shared by the requests and answers of the report server: names, hashes, places, counts. Lengths are bounded so that no
// request can be larger than what it names.
import { z } from 'zod';
import { LEVELS } from '../../src/samples/finding.ts';
import type { Rect } from '../../src/samples/view.ts';

/** Longest name of a run, page, theme, state, viewport, owner or selector that a request may carry. */
const NAME_MAX = 2_000;

export const name = z.string().min(1).max(NAME_MAX);
export const runId = name.meta({ description: 'Id of a run; `newest` means the last one.' });
/** Hashes name blobs; letters and digits only, so that they can never be a path. */
export const hash = z
  .string()
  .regex(/^[0-9a-f]{16,128}$/)
  .meta({ description: 'Hash of a blob, lower-case hexadecimal.' });
export const after = z
  .string()
  .max(NAME_MAX)
  .optional()
  .meta({ description: '`next` of the answer before; the first items when absent.' });
export const next = z
  .string()
  .nullable()
  .meta({ description: 'To be sent as `after` for the items that follow; null at the end.' });
export const count = z.number().int().min(0);
export const checkId = z
  .string()
  .regex(/^[a-z][a-z0-9-]{0,63}$/)
  .meta({ description: 'Name of a check; `session` lists them.' });
export const level = z.enum(LEVELS);
export const status = z.enum(['new', 'known', 'exempt']);
export const tone = z.enum(['light', 'dark']);
export const rect: z.ZodType<Rect> = z
  .tuple([z.number(), z.number(), z.number(), z.number()])
  .readonly()
  .meta({ description: '`[x, y, width, height]` in CSS px, page coordinates.' });
export const measures = z.record(z.string(), z.union([z.number(), z.string()])).readonly();
/** Findings by check; checks without any are left out. */
export const byCheck = z.record(checkId, count).readonly();
export const none = z.strictObject({});
