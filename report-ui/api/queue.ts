// The morning queue: causes with new findings, one crop for each way they look, and what was answered to them.
import { z } from 'zod';
import { count, name } from './basics.ts';
import { place, rankedCause } from './findings.ts';

export const ANSWERS = ['intended', 'exempt', 'hand-on'] as const;

export const given = z.strictObject({
  id: z.string(),
  run: z.string(),
  cause: z.string(),
  kind: z.enum(ANSWERS),
  who: z.string(),
  at: z.string(),
  note: z.string(),
  owner: z.string().exactOptional().meta({ description: 'Who it was handed on to, or who answers for the exemption.' }),
  /** What was done, in words. */
  done: z.string(),
  command: z.string().exactOptional().meta({ description: 'To be typed where the configuration could not be written from here.' }),
  acceptance: z.string().exactOptional(),
});

export const queueItem = z.strictObject({
  cause: rankedCause,
  /** Latest answer that holds; null: it is open. */
  answer: given.nullable(),
});
export const queue = z.strictObject({
  items: z.array(queueItem).readonly().meta({ description: 'In the order of the causes; at most 500.' }),
  total: count,
  left: count,
  may: z
    .strictObject({ answer: z.boolean(), write: z.boolean() })
    .meta({ description: 'Whether answers are taken, and whether exemptions can be written into the configuration.' }),
});

export const looksQuery = z.strictObject({ cause: name });
export const look = z.strictObject({
  here: place,
  reference: z.strictObject({ ...place.omit({ finding: true }).shape, rect: place.shape.finding.shape.rect }).nullable(),
  count: count.meta({ description: 'Open findings of the cause that look so.' }),
});
export const looks = z.strictObject({
  looks: z.array(look).readonly().meta({ description: 'Most frequent first, at most 12.' }),
  total: count.meta({ description: 'Distinct looks there are.' }),
  pictures: z
    .array(z.strictObject({ page: z.string(), theme: z.string(), count }))
    .readonly()
    .meta({ description: 'Pictures of its places that differ from the accepted ones: what “intended” can accept.' }),
});

const text = z.string().max(2_000);
export const answerBody = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('intended'),
    run: name,
    cause: name,
    page: name.optional(),
    theme: name.optional(),
    note: text.default(''),
  }),
  z.strictObject({
    kind: z.literal('exempt'),
    run: name,
    cause: name,
    finding: name,
    why: text.min(1),
    owner: name.optional(),
    until: z
      .string()
      .regex(/^\d{4}-\d{2}-\d{2}$/)
      .optional(),
    any: z
      .array(z.enum(['check', 'page', 'theme', 'state']))
      .max(4)
      .default([]),
  }),
  z.strictObject({ kind: z.literal('hand-on'), run: name, cause: name, owner: name, note: text.default('') }),
]);
/** Bodies are objects; what is inside is told by its kind. */
export const answerWish = z.strictObject({ wish: answerBody });
export const takeBackBody = z.strictObject({ answer: name });

export type Given = z.infer<typeof given>;
export type Queue = z.infer<typeof queue>;
export type QueueItem = z.infer<typeof queueItem>;
export type Look = z.infer<typeof look>;
export type Looks = z.infer<typeof looks>;
export type AnswerWish = z.input<typeof answerBody>;
