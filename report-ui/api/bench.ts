// The bench: the cases of a run for the page's own arithmetic, and a proposal as a patch of the token files.
import { z } from 'zod';

export const bench = z.strictObject({
  known: z.boolean().meta({ description: 'False where the server was given no token files.' }),
  packed: z.string().meta({ description: 'JSON text of the cases and the token table; for the page of the same version alone.' }),
});
export const benchPatchQuery = z.strictObject({
  changes: z.string().meta({ description: 'JSON: [[token, theme, colour or {token}], …].' }),
});
export const benchPatch = z.strictObject({
  patch: z.string().meta({ description: 'Unified diff of the token files.' }),
  left: z.array(z.string()).readonly().meta({ description: 'Changes that no token file holds, in words.' }),
});

export type Bench = z.infer<typeof bench>;
export type BenchPatch = z.infer<typeof benchPatch>;
