// A check that nobody needs, written as a contributor would write one (DEVELOPERS.md, "Add a check"): one file, on facts that are there.
import type { Fault, SampleOf } from '../../src/checks/check.ts';
import { defineCheck } from '../../src/checks/check.ts';
import { nameOf, rounded, showLightness } from '../../src/checks/wording.ts';
import { opaque } from '../../src/colour/color.ts';
import { cieLightness } from '../../src/colour/lightness.ts';
import { findColor } from '../../src/colour/parse-color.ts';

interface Middling extends Fault<SampleOf<'text'>> {
  readonly lightness: number;
}

export const middlingInk = defineCheck({
  id: 'middling-ink',
  title: 'Middling inks',
  about: 'Text whose ink is neither dark nor light. Left alone: everything else.',
  guide: { why: 'None.', computed: 'L* of the ink.', source: 'CIE 15 for L*; the rule is made up.', mend: 'Take another ink.' },
  kinds: ['text'],
  parameters: {
    leastOff: {
      default: 10,
      min: 0,
      max: 50,
      unit: 'L*',
      about: 'How far from the middle an ink has to be.',
      source: 'made up',
    },
  },
  judge: (sample, _, { leastOff }): Middling | null => {
    const ink = findColor(sample.color);
    if (ink === null) return null;
    const lightness = cieLightness(opaque(ink));
    return Math.abs(lightness - 50) < leastOff ? { sample, level: 'warning', lightness } : null;
  },
  say: ({ sample, lightness }, { leastOff }) => ({
    message: `${nameOf(sample)} has a middling ink: ${sample.color} has L* ${showLightness(lightness)}.`,
    measured: { ink: sample.color, lightness: rounded(lightness, 1) },
    expected: { leastOff },
  }),
});
