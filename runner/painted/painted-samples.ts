// All samples that are read from the page's own facts and its pictures together.
import type { Sample } from '../../src/samples/sample.ts';
import { graphicSamples } from './graphic-samples.ts';
import type { PaintedView } from './painted-view.ts';
import { pictureSamples } from './picture-samples.ts';
import { shadowSamples } from './shadow-samples.ts';
import { surfaceSamples } from './surface-samples.ts';

export function paintedSamples(painted: PaintedView): readonly Sample[] {
  return [...surfaceSamples(painted), ...shadowSamples(painted), ...graphicSamples(painted), ...pictureSamples(painted)];
}
