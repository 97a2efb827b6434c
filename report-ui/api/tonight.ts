// What changed since the run before, and the grid of pages × themes.
import { z } from 'zod';
import { byCheck, count, next, after } from './basics.ts';
import { rankedCause } from './findings.ts';

const change = z.strictObject({ fresh: count, gone: count, known: count, exempt: count });

export const tonight = z.strictObject({
  previous: z.string().nullable(),
  total: change,
  themes: z.array(z.strictObject({ theme: z.string(), ...change.shape, coverage: z.number().nullable() })).readonly(),
  freshByCheck: byCheck,
  goneByCheck: byCheck,
  causes: z.array(rankedCause).readonly().meta({ description: 'Those with new findings first, at most 12.' }),
  causesTotal: count,
  drift: count.meta({ description: 'Views whose picture differs from the accepted one.' }),
  failed: z
    .array(
      z.strictObject({
        view: z.string(),
        page: z.string(),
        theme: z.string(),
        state: z.string(),
        viewport: z.string(),
        error: z.string(),
      }),
    )
    .readonly()
    .meta({ description: 'At most 50.' }),
  failedTotal: count,
});

/** One theme of one page, all states and viewports together. A tuple, since a grid has thousands. */
export const cell = z.tuple([count, count, count, count, count, count]).readonly().meta({
  description: '`[errors, warnings, notes, new ones among these, views captured, views failed]`; exempt ones are left out.',
});

export const gridQuery = z.strictObject({ after });
export const grid = z.strictObject({
  themes: z.array(z.string()).readonly(),
  rows: z
    .array(
      z.strictObject({
        page: z.string(),
        owner: z.string().exactOptional(),
        cells: z.array(cell).readonly(),
      }),
    )
    .readonly(),
  total: count,
  next,
});

export type Tonight = z.infer<typeof tonight>;
export type Grid = z.infer<typeof grid>;
export type GridRow = Grid['rows'][number];
export type GridCell = z.infer<typeof cell>;
