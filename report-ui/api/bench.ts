// The bench: the cases of a run for the page's own arithmetic, and a proposal as a patch of the token files.
import { z } from 'zod';
import { count, hash, name, rect, runId } from './basics.ts';

export const bench = z.strictObject({
  known: z.boolean().meta({ description: 'False where the server was given no token files.' }),
  works: z.boolean().meta({ description: 'Whether work can be begun here: not where nothing may be changed.' }),
  packed: z.string().meta({ description: 'JSON text of the cases and the token table; for the page of the same version alone.' }),
});
export const benchPatchQuery = z.strictObject({
  changes: z.string().meta({ description: 'JSON: [[token, theme, colour or {token}], …].' }),
});
export const benchPatch = z.strictObject({
  patch: z.string().meta({ description: 'Unified diff of the token files.' }),
  left: z.array(z.string()).readonly().meta({ description: 'Changes that no token file holds, in words.' }),
});

const rgb = z.string().meta({ description: 'CSS colour, opaque.' });
const look = z.strictObject({ fore: rgb, back: rgb });
/** What stands in front and what lies behind, at one place. */
export const changedLook = z.strictObject({
  rect,
  kind: z.enum(['text', 'graphic', 'surface', 'shadow']),
  before: look,
  after: look,
});
export const benchLooksQuery = z.strictObject({ view: name, changes: benchPatchQuery.shape.changes });
export const benchLooks = z.strictObject({
  looks: z
    .array(changedLook)
    .readonly()
    .meta({ description: 'Places of the view whose colours would change, large before small.' }),
});

export const benchShotsQuery = z.strictObject({ views: z.string().meta({ description: 'JSON: ids of at most 40 views.' }) });
export const benchShots = z.strictObject({
  shots: z
    .array(z.strictObject({ view: z.string(), shot: hash, widthCssPx: z.number(), heightCssPx: z.number(), scale: z.number() }))
    .readonly(),
});

export const WORK_KINDS = ['solve', 'store', 'try'] as const;
export const benchBegin = z.strictObject({
  run: runId,
  kind: z
    .enum(WORK_KINDS)
    .meta({ description: 'Least change of the palette; keep as a forecast; that, and put it on the live pages.' }),
  changes: benchPatchQuery.shape.changes,
  pins: z.array(name).max(500).meta({ description: 'For `solve`: tokens that stay as the files have them.' }),
});
const solved = z.strictObject({
  changes: z.string().meta({ description: 'As in the query of a patch.' }),
  mends: count,
  breaks: count,
  unmet: count.meta({ description: 'Pairs that no change allowed makes pass.' }),
  gaveUp: z.string().nullable(),
});
const kept = z.strictObject({ forecast: z.string(), fresh: count, known: count, gone: count });
const tried = z.strictObject({
  views: count,
  both: count,
  onlyForetold: count,
  onlyFound: count,
  verdicts: z.number().meta({ description: 'Share of verdicts on contrast that are equal, 0–1.' }),
});
export const benchWork = z.strictObject({
  work: z
    .strictObject({
      id: z.string(),
      kind: z.enum(WORK_KINDS),
      state: z.enum(['running', 'done', 'failed', 'ended']),
      done: count,
      of: count.nullable(),
      said: z.string(),
      solved: solved.nullable(),
      kept: kept.nullable(),
      tried: tried.nullable(),
    })
    .nullable()
    .meta({ description: 'The last that was begun; null where there was none.' }),
});
export const benchEnd = z.strictObject({ id: z.string().max(64) });

export type ChangedLook = z.infer<typeof changedLook>;
export type BenchBegin = z.infer<typeof benchBegin>;
export type BenchWork = z.infer<typeof benchWork>;
export type Work = NonNullable<BenchWork['work']>;
export type Bench = z.infer<typeof bench>;
export type BenchPatch = z.infer<typeof benchPatch>;
