// Ramps as the token files resolve them in each theme, with what the pages made of their steps.
import { z } from 'zod';
import { count } from './basics.ts';

export const rampStep = z.strictObject({
  token: z.string(),
  name: z.string().meta({ description: 'The step within its ramp.' }),
  color: z.string(),
  lightness: z.number().meta({ description: 'CIE L*, 0–100.' }),
  chroma: z.number().meta({ description: 'OKLCH.' }),
  hueDeg: z.number().nullable().meta({ description: 'OKLCH; null where achromatic.' }),
  onWhite: z.number().meta({ description: 'Contrast ratio on white.' }),
  onBlack: z.number().meta({ description: 'Contrast ratio on black.' }),
  uses: count.nullable().meta({ description: 'Painted places that end at this step; null where they were not counted.' }),
  usedBy: z.array(z.string()).readonly().meta({ description: 'Tokens that point at it.' }),
});
export const rampFault = z.strictObject({
  steps: z
    .array(z.string())
    .readonly()
    .meta({ description: 'Tokens of the steps: first the one it is about, then those it is held against.' }),
  message: z.string(),
});
export const ramp = z.strictObject({
  name: z.string(),
  themes: z
    .array(
      z.strictObject({
        theme: z.string(),
        steps: z.array(rampStep).readonly(),
        faults: z.array(rampFault).readonly(),
        apart: z.array(z.number()).readonly().meta({ description: 'Least contrast between steps that are 1, 2, 3 … apart.' }),
      }),
    )
    .readonly(),
});
export const rampList = z.strictObject({
  known: z.boolean().meta({ description: 'False where the server was given no token files.' }),
  ramps: z.array(ramp).readonly(),
});

export type RampStep = z.infer<typeof rampStep>;
export type Ramp = z.infer<typeof ramp>;
