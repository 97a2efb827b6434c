// Text whose contrast with what lies behind it is below its threshold (WCAG 2.2 SC 1.4.3, 1.4.6).
import { showRatio } from '../colour/contrast-ratio.ts';
import { requiredContrast } from '../colour/text-requirement.ts';
import type { FindingDraft } from '../samples/finding.ts';
import type { SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
import { nameOf, rounded } from './wording.ts';

/** Below this ratio nobody would call it text: one 8-bit code of grey on grey (ours). */
const UNSEEN = 1.05;

export const textContrast = defineCheck({
  id: 'text-contrast',
  title: 'Text contrast',
  about:
    'Text below its contrast threshold on what is painted behind it. A text that passes on part of its background only is a warning. Left alone: inactive controls, what lies beneath a modal layer, hidden text, decoration, logotypes, configured exemptions.',
  guide: {
    why: 'Text that cannot be read is the fault every user meets first, and the one a new theme makes most of.',
    computed:
      'The ink is the colour the run is drawn with; the background is what Chromium painted behind it, read from a picture of the same page with its text made transparent, so gradients, pictures, opacity, filters and blend modes need no emulation. Relative luminance and ratio as WCAG 2.2 defines them, unrounded; the pair with the lowest ratio counts. Large text starts at 24 CSS px, or 18⅔ CSS px bold.',
    source: 'WCAG 2.2, SC 1.4.3 and 1.4.6, definitions of contrast ratio, relative luminance and large-scale text.',
    mend: 'Follow the cause: a ramp step that is too weak, a token pointing at the wrong step, or a place that uses a colour meant for something else. The finding names the ratio needed; `gloam match COLOUR --on BACKGROUND` lists tokens that reach it.',
  },
  parameters: {
    level: {
      default: 'AA',
      choices: ['AA', 'AAA'],
      about: 'Conformance level: AA asks 4.5 (large text 3), AAA asks 7 (large text 4.5).',
      source: 'WCAG 2.2 SC 1.4.3 (AA), SC 1.4.6 (AAA)',
    },
  },
  find: ({ samples, reference }, { level }) =>
    samplesOf(samples, 'text').flatMap((sample): FindingDraft[] => {
      const required = sample.required ?? requiredContrast(sample.large, level === 'AAA' ? 'AAA' : 'AA');
      const verdict = verdictOf(sample, required);
      if (verdict === 'pass') return [];
      const before = reference?.find('text', sample.key);
      return [
        findingAt(sample, {
          check: 'text-contrast',
          level: verdict === 'fail' ? 'error' : 'warning',
          message: wording(sample, required, verdict),
          measured: {
            contrast: rounded(sample.contrast.min),
            ...(verdict === 'mixed' ? { contrastAtBest: rounded(sample.contrast.max) } : {}),
            ink: sample.color,
            background: sample.background,
            fontSize: rounded(sample.fontSize, 2),
            fontWeight: sample.fontWeight,
            ...(before === undefined ? {} : { contrastInReference: rounded(before.contrast.min) }),
          },
          expected: { contrast: required },
        }),
      ];
    }),
});

/** Configured exemptions are judged all the same: whether one still holds is decided where the date is known. */
function verdictOf(sample: SampleOf<'text'>, required: number): 'pass' | 'fail' | 'mixed' {
  if (sample.verdict === 'exempt' && sample.exempt === 'configured') {
    if (sample.contrast.max < required) return 'fail';
    return sample.contrast.min < required ? 'mixed' : 'pass';
  }
  return sample.verdict === 'fail' || sample.verdict === 'mixed' ? sample.verdict : 'pass';
}

function wording(sample: SampleOf<'text'>, required: number, verdict: 'fail' | 'mixed'): string {
  const { min, max } = sample.contrast;
  const pair = `${sample.color} on ${sample.background}`;
  const size = sample.large ? ' for large text' : '';
  if (verdict === 'mixed') {
    return `${nameOf(sample)} has a contrast of ${showRatio(min)} at its worst place (${pair}) and ${showRatio(max)} at its best; it needs ${String(required)}${size} everywhere.`;
  }
  if (max < UNSEEN) return `${nameOf(sample)} cannot be seen: its ink ${sample.color} equals its background ${sample.background}.`;
  return `${nameOf(sample)} has a contrast of ${showRatio(min)} (${pair}); it needs ${String(required)}${size}.`;
}
