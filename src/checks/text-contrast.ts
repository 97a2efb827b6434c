// Text whose contrast with what lies behind it is below its threshold (WCAG 2.2 SC 1.4.3, 1.4.6).
import { showRatio } from '../colour/contrast-ratio.ts';
import type { Against, Fault, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { textContrastAsked, textReaches } from './contrast-asked.ts';
import { cutRatio, nameOf, rounded } from './wording.ts';

/** Below this ratio nobody would call it text: one 8-bit code of grey on grey (ours). */
const UNSEEN = 1.05;

export const textContrast = defineCheck({
  id: 'text-contrast',
  kinds: ['text'],
  title: 'Text contrast',
  about:
    'Text below its contrast threshold on what is painted behind it. A text that passes on part of its background only is a warning. Left alone: inactive controls, what lies beneath a modal layer, what a toast or a sticky head lies over, hidden text, decoration, logotypes, configured exemptions.',
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
  standing: (sample) => (sample.large ? 'large' : ''),
  judge: (sample, against, { level }): Unread | null => {
    const required = textContrastAsked(sample, level === 'AAA' ? 'AAA' : 'AA');
    if (required === null || sample.unread !== undefined) return null;
    const reaches = textReaches(sample, required);
    return reaches === 'pass' ? null : { sample, level: reaches === 'fail' ? 'error' : 'warning', required, against };
  },
  say: ({ sample, level, required, against }) => {
    const before = against.reference?.samePlace('text');
    return {
      message: wording(sample, required, level),
      measured: {
        contrast: cutRatio(sample.contrast.min),
        ...(level === 'warning' ? { contrastAtBest: cutRatio(sample.contrast.max) } : {}),
        ink: sample.color,
        background: sample.background,
        fontSize: rounded(sample.fontSize, 2),
        fontWeight: sample.fontWeight,
        ...(before === undefined ? {} : { contrastInReference: cutRatio(before.contrast.min) }),
      },
      expected: { contrast: required },
    };
  },
});

/** Cannot be read well: nowhere (error), or only on part of what lies behind it (warning). */
interface Unread extends Fault<SampleOf<'text'>> {
  readonly level: 'error' | 'warning';
  readonly required: number;
  readonly against: Against;
}

function wording(sample: SampleOf<'text'>, required: number, level: Unread['level']): string {
  const { min, max } = sample.contrast;
  const pair = `${sample.color} on ${sample.background}`;
  const size = sample.large ? ' for large text' : '';
  if (level === 'warning') {
    return `${nameOf(sample)} has a contrast of ${showRatio(min)} at its worst place (${pair}) and ${showRatio(max)} at its best; it needs ${String(required)}${size} everywhere.`;
  }
  if (max < UNSEEN) return `${nameOf(sample)} cannot be seen: its ink ${sample.color} equals its background ${sample.background}.`;
  return `${nameOf(sample)} has a contrast of ${showRatio(min)} (${pair}); it needs ${String(required)}${size}.`;
}
