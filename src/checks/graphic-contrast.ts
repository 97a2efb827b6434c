// Icons, edges and marks of controls, focus indicators that do not stand out from what they touch (WCAG 2.2 SC 1.4.11, 2.4.7, 2.4.13).
import { showRatio } from '../colour/contrast-ratio.ts';
import { LEAST_GRAPHIC_CONTRAST } from '../colour/graphic-requirement.ts';
import type { Against, Fault, SampleOf } from './check.ts';
import { defineCheck } from './check.ts';
import { graphicContrastAsked, graphicReaches } from './contrast-asked.ts';
import { byKey, groupBy } from './group-by.ts';
import { cutRatio, nameOf, rounded } from './wording.ts';

type Graphic = SampleOf<'graphic'>;

const WHAT: Readonly<Record<Graphic['role'], string>> = {
  icon: 'The icon',
  border: 'The edge or mark',
  focus: 'The focus indicator',
};

export const graphicContrast = defineCheck({
  id: 'graphic-contrast',
  kinds: ['graphic'],
  title: 'Contrast of icons, controls and focus',
  about:
    'Icons that carry meaning, edges and marks that alone identify a control, and focus indicators below 3:1 against what they touch, or absent. Icons beside a text that says the same are a warning where they reach 3:1 in the reference theme and not here. Left alone: inactive controls, what lies beneath a modal layer, decoration, separators.',
  guide: {
    why: 'A control whose edge is gone, an icon that fades, or focus that cannot be seen lock people out, though every text passes.',
    computed:
      'The colour of the icon, edge or mark and of what it touches are read from the painted pixels around it, or between its strokes where it lies on a tile of its own. An edge or mark is judged only where it alone identifies the control; the edge of a field is its border, a line that its shadow or background draws, its own face, or a frame built closely around it or laid over it; a focus indicator is what changes between the unfocused and the focused picture.',
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
  judge: (sample, against, { focusAppearance }): Faint | null => {
    const asked = graphicContrastAsked(sample);
    if (asked !== null && graphicReaches(sample, asked) === 'fail') return { sample, level: 'error', how: 'low', against };
    if (focusAppearance === 'on' && isWeakFocus(sample)) return { sample, level: 'error', how: 'weak-focus', against };
    return fades(sample, against) ? { sample, level: 'warning', how: 'fades', against } : null;
  },
  /** Edge and mark of one control are one matter. */
  fold: (faults) =>
    groupBy(faults, ({ sample }) => `${sample.selector} ${sample.role}`).flatMap((group) => {
      const [weakest] = [...group].sort(
        (one, other) => cutRatio(one.sample.contrast) - cutRatio(other.sample.contrast) || byKey(one.sample, other.sample),
      );
      return weakest === undefined ? [] : [weakest];
    }),
  say: (fault) => {
    const { sample, against } = fault;
    const before = against.reference?.samePlace('graphic');
    return {
      message: wording(fault, before),
      measured: {
        contrast: cutRatio(sample.contrast),
        color: sample.color,
        against: sample.against,
        role: sample.role,
        ...(sample.change === undefined ? {} : { focusAreaShare: rounded(sample.change.perimeterShare) }),
        ...(before === undefined ? {} : { contrastInReference: cutRatio(before.contrast) }),
      },
      expected: { contrast: LEAST_GRAPHIC_CONTRAST },
    };
  },
});

interface Faint extends Fault<Graphic> {
  readonly how: 'low' | 'weak-focus' | 'fades';
  readonly against: Against;
}

/** WCAG asks nothing of an icon beside its text; that it was seen in the reference theme and is not here is a fault all the same. */
function fades({ role, exempt, contrast }: Graphic, { reference }: Against): boolean {
  if (role !== 'icon' || exempt !== 'decoration' || contrast >= LEAST_GRAPHIC_CONTRAST) return false;
  const before = reference?.samePlace('graphic');
  return before !== undefined && before.contrast >= LEAST_GRAPHIC_CONTRAST;
}

/** SC 2.4.13: an area of at least a 2 px thick perimeter whose pixels change by 3:1. */
function isWeakFocus({ role, change }: Graphic): boolean {
  return role === 'focus' && change !== undefined && change.perimeterShare < 1;
}

function wording({ sample, how, against }: Faint, before: Graphic | undefined): string {
  const name = nameOf(sample);
  const found = `${showRatio(sample.contrast)} (${sample.color} against ${sample.against})`;
  switch (how) {
    case 'low':
      return sample.role === 'focus' && sample.color === sample.against
        ? `${name} shows no focus indicator: nothing changes when it is focused by keyboard.`
        : `${WHAT[sample.role]}${sample.role === 'icon' ? '' : ' of'} ${name} has a contrast of ${found}; it needs ${String(LEAST_GRAPHIC_CONTRAST)}.`;
    case 'weak-focus': {
      const share = Math.floor((sample.change?.perimeterShare ?? 0) * 100);
      return `The focus indicator of ${name} changes ${String(share)} % of the area of a 2 px outline by 3:1; it needs all of it.`;
    }
    case 'fades':
      return `${WHAT.icon} ${name} fades: its contrast is ${found}, ${showRatio(before?.contrast ?? 0)} in ${against.reference?.theme ?? ''}.`;
  }
}
