// Whether each theme may launch: criteria, exemptions, coverage, and how it went over the nights.
import { z } from 'zod';
import { byCheck, checkId, count } from './basics.ts';

export const criterion = z.strictObject({
  about: z.string().meta({ description: 'What is asked, in words.' }),
  holds: z.boolean(),
  found: z.string(),
  asked: z.string(),
  check: checkId.exactOptional(),
});
export const exemption = z.strictObject({
  selector: z.string(),
  checks: z.array(z.string()).readonly(),
  why: z.string(),
  owner: z.string().exactOptional(),
  until: z.string().nullable(),
  findings: count,
  state: z.enum(['holds', 'ends-soon', 'ended', 'matches-nothing']),
});
export const themeLaunch = z.strictObject({
  theme: z.string(),
  verdict: z.enum(['go', 'wait', 'no-criteria']),
  criteria: z.array(criterion).readonly(),
  findings: byCheck,
  coverage: z.number().nullable(),
  coverageByOwner: z.array(z.strictObject({ owner: z.string(), coverage: z.number() })).readonly(),
  exemptions: z.array(exemption).readonly(),
  nights: z
    .array(z.strictObject({ run: z.string(), at: z.string(), errors: count, warnings: count, coverage: z.number().nullable() }))
    .readonly(),
});
export const launch = z.strictObject({ themes: z.array(themeLaunch).readonly() });

export type Criterion = z.infer<typeof criterion>;
export type Exemption = z.infer<typeof exemption>;
export type ThemeLaunch = z.infer<typeof themeLaunch>;
export type Launch = z.infer<typeof launch>;
