// Icons, edges and marks of controls, focus indicators that do not stand out from what they touch (WCAG 2.2 SC 1.4.11, 2.4.7, 2.4.13).
import { showRatio } from '../colour/contrast-ratio.ts';
import type { FindingDraft } from '../samples/finding.ts';
import type { SampleOf } from './check.ts';
import { defineCheck, findingAt, samplesOf } from './check.ts';
import { byKey, groupBy } from './group-by.ts';
import { nameOf, rounded } from './wording.ts';

/** SC 1.4.11; nothing is rounded up to it (Understanding 1.4.11). */
const REQUIRED = 3;

const WHAT: Readonly<Record<SampleOf<'graphic'>['role'], string>> = {
  icon: 'The icon',
  border: 'The edge or mark',
  focus: 'The focus indicator',
};

export const graphicContrast = defineCheck({
  id: 'graphic-contrast',
  title: 'Contrast of icons, controls and focus',
  about:
    'Icons that carry meaning, edges and marks that alone identify a control, and focus indicators below 3:1 against what they touch, or absent. Icons beside a text that says the same are a warning where they reach 3:1 in the reference theme and not here. Left alone: inactive controls, what lies beneath a modal layer, decoration, separators.',
  guide: {
    why: 'A control whose edge is gone, an icon that fades, or focus that cannot be seen lock people out, though every text passes.',
    computed:
      'The colour of the icon, edge or mark and of what it touches are read from the painted pixels around it, or between its strokes where it lies on a tile of its own. An edge or mark is judged only where it alone identifies the control; a focus indicator is what changes between the unfocused and the focused picture.',
    source: 'WCAG 2.2, SC 1.4.11, 2.4.7; 2.4.13 where `focusAppearance` is on.',
    mend: 'Give the edge, the icon or the focus ring a step of the ramp that reaches 3:1 on every ground it meets; a ring of two colours, one light and one dark, serves on all grounds.',
  },
  parameters: {
    focusAppearance: {
      default: 'off',
      choices: ['off', 'on'],
      about:
        'Also asks that the same pixels differ by 3:1 between focused and unfocused, over at least a 2 px outline of the control. Excepted: the browser’s own indicator where neither it nor the background is the author’s; pixels that antialiasing made are left out.',
      source: 'WCAG 2.2 SC 2.4.13 (AAA)',
    },
  },
  find: ({ samples, reference }, { focusAppearance }) => {
    const found = samplesOf(samples, 'graphic').flatMap((sample): FindingDraft[] => {
      const before = reference?.find('graphic', sample.key);
      const required = lowContrast(sample) ?? (focusAppearance === 'on' ? weakFocus(sample) : null);
      const wording = required ?? faded(sample, before, reference?.theme ?? '');
      if (wording === null) return [];
      return [
        findingAt(sample, {
          check: 'graphic-contrast',
          level: required === null || sample.verdict === 'mixed' ? 'warning' : 'error',
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
    });
    return weakestOfEach(found);
  },
});

/** Edge and mark of one control are one matter. */
function weakestOfEach(found: readonly FindingDraft[]): readonly FindingDraft[] {
  const contrastOf = ({ measured }: FindingDraft): number => Number(measured['contrast']);
  return groupBy(found, ({ selector, measured }) => `${selector} ${String(measured['role'])}`).flatMap((group) => {
    const [weakest] = [...group].sort((one, other) => contrastOf(one) - contrastOf(other) || byKey(one, other));
    return weakest === undefined ? [] : [weakest];
  });
}

function lowContrast(sample: SampleOf<'graphic'>): string | null {
  const configured = sample.verdict === 'exempt' && sample.exempt === 'configured' && sample.contrast < REQUIRED;
  if (sample.verdict !== 'fail' && sample.verdict !== 'mixed' && !configured) return null;
  if (sample.role === 'focus' && sample.color === sample.against) {
    return `${nameOf(sample)} shows no focus indicator: nothing changes when it is focused by keyboard.`;
  }
  return `${WHAT[sample.role]}${sample.role === 'icon' ? '' : ' of'} ${nameOf(sample)} has a contrast of ${showRatio(sample.contrast)} (${sample.color} against ${sample.against}); it needs ${String(REQUIRED)}.`;
}

/** WCAG asks nothing of an icon beside its text; that it was seen in the reference theme and is not here is a fault all the same. */
function faded(sample: SampleOf<'graphic'>, before: SampleOf<'graphic'> | undefined, theme: string): string | null {
  if (sample.role !== 'icon' || sample.exempt !== 'decoration' || before === undefined) return null;
  if (sample.contrast >= REQUIRED || before.contrast < REQUIRED) return null;
  return `${WHAT.icon} ${nameOf(sample)} fades: its contrast is ${showRatio(sample.contrast)} (${sample.color} against ${sample.against}), ${showRatio(before.contrast)} in ${theme}.`;
}

/** SC 2.4.13: an area of at least a 2 px thick perimeter whose pixels change by 3:1. */
function weakFocus(sample: SampleOf<'graphic'>): string | null {
  if (sample.role !== 'focus' || sample.change === undefined || sample.change.perimeterShare >= 1) return null;
  const share = Math.floor(sample.change.perimeterShare * 100);
  return `The focus indicator of ${nameOf(sample)} changes ${String(share)} % of the area of a 2 px outline by 3:1; it needs all of it.`;
}
