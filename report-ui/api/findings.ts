// Findings, the samples behind them and the causes that explain them, as the server answers them.
import { z } from 'zod';
import { CAUSE_LAYERS } from '../../src/samples/finding.ts';
import type { Cause as CauseFacts, ChainLink, Finding as FindingFacts, Repair } from '../../src/samples/finding.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { SampleVerdict } from '../../src/samples/sample-verdict.ts';
import { byCheck, checkId, count, after, hash, level, measures, name, next, rect, status } from './basics.ts';

export const finding = z.strictObject({
  id: z.string(),
  check: checkId,
  level,
  key: z.string(),
  selector: z.string(),
  rect,
  message: z.string(),
  measured: measures,
  expected: measures,
  view: z.string(),
  page: z.string(),
  theme: z.string(),
  state: z.string(),
  viewport: z.string(),
  since: z.string(),
  status,
  owner: z.string().exactOptional(),
  exemption: z.string().exactOptional(),
  cause: z.string().nullable(),
}) satisfies z.ZodType<FindingFacts>;

export const findingFilter = z.strictObject({
  page: name.optional(),
  theme: name.optional(),
  state: name.optional(),
  viewport: name.optional(),
  check: checkId.optional(),
  level: level.optional(),
  status: status.optional(),
  owner: name.optional(),
  cause: name.optional(),
  after,
});

export const findingList = z.strictObject({ findings: z.array(finding).readonly(), total: count, next });

/** A finding with the picture it is on, for small crops. */
export const place = z.strictObject({
  finding,
  shot: hash.nullable(),
  widthCssPx: z.number(),
  heightCssPx: z.number(),
  scale: z.number().meta({ description: 'Device px per CSS px.' }),
});
export const placeList = z.strictObject({ places: z.array(place).readonly(), total: count, next });
export const placeQuery = z.strictObject({ cause: name, after });

/** The runner's own facts; of texts and graphics with what the checks of that run make of them. */
export type JudgedSample = Sample & { readonly judged?: SampleVerdict };

const sample = z
  .custom<JudgedSample>((value) => typeof value === 'object' && value !== null && 'kind' in value)
  .meta({
    description:
      'A sample’s facts, with the origins of its colours; `judged`: what `samples.ndjson` says of texts and graphics besides.',
  });
export const evidenceQuery = z.strictObject({ page: name, state: name, viewport: name, key: name.optional(), after });
export const evidence = z.strictObject({
  places: z
    .array(z.strictObject({ key: z.string(), samples: z.record(z.string(), sample).meta({ description: 'By theme.' }).readonly() }))
    .readonly(),
  next,
});

const chainLink = z.strictObject({
  property: z.string().exactOptional(),
  token: z.string().exactOptional(),
  value: z.string(),
  file: z.string().exactOptional(),
  line: z.number().exactOptional(),
}) satisfies z.ZodType<ChainLink>;

const swap = { of: z.string(), from: z.string(), to: z.string() };
const plain = { change: z.enum(['alias', 'rebuild']), ...swap };
const value = {
  change: z.literal('value'),
  ...swap,
  components: z
    .array(z.strictObject({ property: z.string(), from: z.string(), to: z.string() }))
    .readonly()
    .exactOptional(),
};
const use = {
  change: z.literal('use'),
  ...swap,
  drawn: z.strictObject({ what: z.string(), rule: z.string().exactOptional(), place: z.string() }).exactOptional(),
};
const ask = z.strictObject({ theme: z.string(), on: z.string(), contrast: z.number(), suggestion: z.string().exactOptional() });
const add = { change: z.literal('add'), ...swap, asks: z.array(ask).readonly() };
const style = {
  change: z.literal('style'),
  ...swap,
  style: z.strictObject({ property: z.string(), from: z.string(), to: z.string() }),
};

const repairPart = z.discriminatedUnion('change', [
  z.strictObject(plain),
  z.strictObject(value),
  z.strictObject(use),
  z.strictObject(add),
  z.strictObject(style),
]);

const reach = {
  also: z.array(repairPart).readonly().exactOptional(),
  after: z.array(z.string()).readonly().exactOptional(),
  themes: z.array(z.string()).readonly(),
  fixes: count,
  breaks: count,
};

const repair = z.discriminatedUnion('change', [
  z.strictObject({ ...plain, ...reach }),
  z.strictObject({ ...value, ...reach }),
  z.strictObject({ ...use, ...reach }),
  z.strictObject({ ...add, ...reach }),
  z.strictObject({ ...style, ...reach }),
]) satisfies z.ZodType<Repair>;

export const cause = z.strictObject({
  id: z.string(),
  layer: z.enum(CAUSE_LAYERS),
  token: z.string().exactOptional(),
  step: z.string().exactOptional(),
  property: z.string().exactOptional(),
  chain: z.array(chainLink).readonly(),
  findings: count,
  themes: z.array(z.string()).readonly(),
  pages: count,
  confidence: z.number(),
  why: z.string(),
  repair: repair.exactOptional(),
  place: z.string().exactOptional().meta({ description: 'What the page calls it, where no repair names it.' }),
}) satisfies z.ZodType<CauseFacts>;

/** A cause with what the history says about it. */
export const rankedCause = z.strictObject({
  ...cause.shape,
  subject: z
    .string()
    .nullable()
    .meta({ description: 'What it is about, in few words; null where nothing more than its layer is known.' }),
  fresh: count.meta({ description: 'Findings of it that are new in this run.' }),
  checks: byCheck,
});
export const causeList = z.strictObject({ causes: z.array(rankedCause).readonly(), total: count, next });
export const causeQuery = z.strictObject({ id: name });

export type Finding = z.infer<typeof finding>;
export type FindingList = z.infer<typeof findingList>;
export type FindingPlace = z.infer<typeof place>;
export type Evidence = z.infer<typeof evidence>;
export type RankedCause = z.infer<typeof rankedCause>;
export type CauseList = z.infer<typeof causeList>;
