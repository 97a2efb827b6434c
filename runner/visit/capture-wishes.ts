// What is asked of one view.
import type { Theme, Viewport } from '../../src/plan/configuration.ts';
import type { KnownView } from '../../src/samples/captured-view.ts';
import type { View } from '../../src/samples/view.ts';
import type { Rules } from '../page/wire/wire.ts';

export interface CaptureWishes {
  readonly view: View;
  readonly theme: Theme;
  readonly viewport: Viewport;
  readonly rules: Rules;
  /** Custom properties to trace besides those that the page names. */
  readonly dye: readonly string[];
  /**
   * What the samples follow from besides one reading of the view: nothing (`null`), or the view at rest that focus is held against, by its
   * fingerprint. Absent where that is not known, or where more is read: then no fingerprint can tell that the view is still the same.
   */
  readonly beside?: string | null;
  /** What an earlier run kept of such a view; its samples are taken where it is still the same. */
  readonly known?: KnownView;
}
