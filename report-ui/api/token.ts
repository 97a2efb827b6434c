// All about one token or step: its value in each theme, its ramp, whatever it paints (also what passes), its causes, who uses it.
import { z } from 'zod';
import { count, name } from './basics.ts';
import { rankedCause, place } from './findings.ts';

export const tokenQuery = z.strictObject({ token: name });

export const tokenTheme = z.strictObject({
  theme: z.string(),
  color: z.string().nullable().meta({ description: 'CSS text; null where it has no colour there.' }),
  value: z.string().meta({ description: 'As the files resolve it, in words; what is wrong where nothing is.' }),
  chain: z
    .array(z.strictObject({ token: z.string(), file: z.string(), line: count }))
    .readonly()
    .meta({ description: 'From the token to the one with the literal.' }),
  steps: z
    .array(z.strictObject({ token: z.string(), name: z.string(), color: z.string() }))
    .readonly()
    .meta({ description: 'The ramp its chain ends in, empty where it ends in none.' }),
  step: z.string().nullable().meta({ description: 'Which of them.' }),
  painted: count.nullable().meta({ description: 'Places at rest that it paints; null where none were counted.' }),
});

export const paintedPlace = z.strictObject({
  ...place.omit({ finding: true }).shape,
  view: z.string(),
  page: z.string(),
  theme: z.string(),
  selector: z.string(),
  rect: place.shape.finding.shape.rect,
  property: z.string(),
  text: z.string().nullable(),
  contrast: z.number().nullable().meta({ description: 'Ratio, of texts and graphics.' }),
  verdict: z.enum(['pass', 'fail', 'mixed', 'exempt', 'unknown']).nullable(),
  finding: z.string().nullable().meta({ description: 'Id of the first open finding at the place.' }),
});

export const tokenPage = z.strictObject({
  token: z.string(),
  known: z.boolean().meta({ description: 'Whether the token files have it; false too where the server knows none.' }),
  ramp: z.string().nullable(),
  themes: z.array(tokenTheme).readonly(),
  users: z.array(z.string()).readonly().meta({ description: 'Tokens that refer to it, in any theme.' }),
  findings: count.meta({ description: 'Open findings whose cause names it, or that are about its own definition.' }),
  faults: z.array(z.strictObject({ id: z.string(), theme: z.string(), message: z.string() })).readonly(),
  causes: z.array(rankedCause).readonly(),
  places: z.array(paintedPlace).readonly().meta({ description: 'The first few of each theme.' }),
});

export type TokenPage = z.infer<typeof tokenPage>;
export type PaintedPlace = z.infer<typeof paintedPlace>;
export type TokenTheme = z.infer<typeof tokenTheme>;
