// Width conditions of the style sheets → window sizes worth rendering. Pure.
import type { ObservedViewport } from '../../src/plan/observed-app.ts';

/** CSS Values 4, section 6.1: `em` in a media condition is the initial font size, 16 px unless the visitor changed it. */
const PX_PER_EM = 16;

export function proposeViewports(conditions: readonly string[], fitsSmall: boolean): readonly ObservedViewport[] {
  const breaks = [...new Set(conditions.flatMap(widthsIn))].sort((a, b) => a - b);
  const desk: ObservedViewport = { name: 'desk', widthCssPx: 1280, heightCssPx: 800, why: 'a common desktop window' };
  const small = breaks.filter((px) => px > 320 && px <= 1280);
  if (small.length === 0 && !fitsSmall) return [desk];
  const why =
    small.length === 0
      ? 'the pages say they fit small screens'
      : `the layout changes at ${small
          .slice(0, 4)
          .map((px) => `${String(px)} px`)
          .join(', ')}`;
  return [desk, { name: 'phone', widthCssPx: 390, heightCssPx: 844, why }];
}

function widthsIn(condition: string): readonly number[] {
  return [...condition.matchAll(/(\d+(?:\.\d+)?)(px|em|rem)/g)].map(([, number, unit]) =>
    Math.round(Number(number) * (unit === 'px' ? 1 : PX_PER_EM)),
  );
}
