// Icons, edges and marks of controls, focus indicators that do not stand out from what they touch (WCAG 2.2 SC 1.4.11, 2.4.7, 2.4.13).
import { showRatio } from '../colour/contrast-ratio.ts';
import type { FindingDraft } from '../samples/finding.ts';
import type { SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
import { nameOf, rounded } from './wording.ts';

/** SC 1.4.11; nothing is rounded up to it (Understanding 1.4.11). */
const REQUIRED = 3;

const WHAT: Readonly<Record<SampleOf<'graphic'>['role'], string>> = {
  icon: 'The icon',
  border: 'The edge or mark of the control',
  focus: 'The focus indicator',
};

export const graphicContrast = defineCheck({
  id: 'graphic-contrast',
  title: 'Contrast of icons, controls and focus',
  about:
    'Icons that carry meaning, edges and marks that alone identify a control, and focus indicators below 3:1 against what they touch, or absent. Left alone: inactive controls, decoration, separators, icons beside a text that says the same.',
  parameters: {
    focusAppearance: {
      default: 'off',
      choices: ['off', 'on'],
      about:
        'Also asks that the same pixels differ by 3:1 between focused and unfocused, over at least a 2 px outline of the control.',
      source: 'WCAG 2.2 SC 2.4.13 (AAA)',
    },
  },
  find: ({ samples, reference }, { focusAppearance }) =>
    samplesOf(samples, 'graphic').flatMap((sample): FindingDraft[] => {
      const wording = lowContrast(sample) ?? (focusAppearance === 'on' ? weakFocus(sample) : null);
      if (wording === null) return [];
      const before = reference?.find('graphic', sample.key);
      return [
        findingAt(sample, {
          check: 'graphic-contrast',
          level: sample.verdict === 'mixed' ? 'warning' : 'error',
          message: wording,
          measured: {
            contrast: rounded(sample.contrast),
            color: sample.color,
            against: sample.against,
            role: sample.role,
            ...(sample.change === undefined ? {} : { focusAreaShare: rounded(sample.change.perimeterShare) }),
            ...(before === undefined ? {} : { contrastInReference: rounded(before.contrast) }),
          },
          expected: { contrast: REQUIRED },
        }),
      ];
    }),
});

function lowContrast(sample: SampleOf<'graphic'>): string | null {
  const configured = sample.verdict === 'exempt' && sample.exempt === 'configured' && sample.contrast < REQUIRED;
  if (sample.verdict !== 'fail' && sample.verdict !== 'mixed' && !configured) return null;
  const of = `${WHAT[sample.role]} of ${nameOf(sample)}`;
  if (sample.role === 'focus' && sample.color === sample.against) {
    return `${nameOf(sample)} shows no focus indicator: nothing changes when it is focused by keyboard.`;
  }
  return `${of} has a contrast of ${showRatio(sample.contrast)} (${sample.color} against ${sample.against}); it needs ${String(REQUIRED)}.`;
}

/** SC 2.4.13: an area of at least a 2 px thick perimeter whose pixels change by 3:1. */
function weakFocus(sample: SampleOf<'graphic'>): string | null {
  if (sample.role !== 'focus' || sample.change === undefined || sample.change.perimeterShare >= 1) return null;
  const share = Math.floor(sample.change.perimeterShare * 100);
  return `The focus indicator of ${nameOf(sample)} changes ${String(share)} % of the area of a 2 px outline by 3:1; it needs all of it.`;
}
