// Whether each theme may launch, as the gate judges it, with coverage by owner and how it went over the nights.
import { z } from 'zod';
import { count } from './basics.ts';

export const launchLink = z.strictObject({
  kind: z.enum(['finding', 'cause', 'view']),
  id: z.string(),
  label: z.string(),
  at: z.strictObject({ page: z.string(), theme: z.string(), state: z.string(), viewport: z.string() }).exactOptional(),
});
export const criterion = z.strictObject({
  id: z.string(),
  name: z.string(),
  met: z.boolean(),
  needed: z.string(),
  found: z.string(),
  step: z.string().meta({ description: 'What to do next; empty when met.' }),
  links: z.array(launchLink).readonly(),
});
export const exemption = z.strictObject({
  scope: z.string(),
  why: z.string(),
  owner: z.string().nullable(),
  until: z.string().nullable(),
  daysLeft: z.number().nullable(),
  state: z.enum(['holds', 'ending', 'expired']),
  idle: z.boolean(),
  covers: count.nullable(),
});
/** The launch sheet: what stands on it, on the screen, on paper and in the file alike. */
export const sheetDocument = z.strictObject({
  theme: z.string(),
  may: z.boolean(),
  headline: z.string(),
  notAsked: z.array(z.string()).readonly(),
  facts: z.array(z.strictObject({ name: z.string(), value: z.string() })).readonly(),
  open: z
    .array(
      z.strictObject({ name: z.string(), needed: z.string(), found: z.string(), step: z.string(), link: launchLink.nullable() }),
    )
    .readonly(),
  holds: z.array(z.strictObject({ name: z.string(), found: z.string(), needed: z.string() })).readonly(),
  causes: z.array(z.strictObject({ id: z.string(), title: z.string(), findings: count, why: z.string() })).readonly(),
  exemptions: z
    .array(
      z.strictObject({
        scope: z.string(),
        why: z.string(),
        owner: z.string(),
        until: z.string(),
        over: z.boolean(),
        covers: z.string(),
      }),
    )
    .readonly(),
  warnings: z.array(z.string()).readonly(),
  more: z.strictObject({ notAsked: count, causes: count, exemptions: count, warnings: count }),
  signOff: z.array(z.string()).readonly(),
  foot: z.string(),
});
export const themeLaunch = z.strictObject({
  theme: z.string(),
  may: z.boolean(),
  sheet: sheetDocument,
  /** Open first, nearest first. */
  criteria: z.array(criterion).readonly(),
  counts: z.strictObject({ new: count, known: count, exempt: count, gone: count }),
  exemptions: z.array(exemption).readonly(),
  notAsked: z.array(z.string()).readonly().meta({ description: 'What the verdict says nothing about.' }),
  warnings: z.array(z.string()).readonly(),
  since: z.string().nullable(),
  coverage: z.array(z.strictObject({ owner: z.string(), uses: count, throughTokens: count })).readonly(),
  nights: z.array(z.strictObject({ run: z.string(), at: z.string(), findings: count, errors: count })).readonly(),
});
export const launch = z.strictObject({
  today: z.string(),
  configured: z.boolean().meta({ description: 'False where the server knows no configuration; then the least is asked.' }),
  themes: z.array(themeLaunch).readonly(),
});

export type Criterion = z.infer<typeof criterion>;
export type Exemption = z.infer<typeof exemption>;
export type ThemeLaunch = z.infer<typeof themeLaunch>;
export type SheetDocument = z.infer<typeof sheetDocument>;
export type Launch = z.infer<typeof launch>;
