// What is to be rendered, and how.
import type { Browser } from 'playwright';
import type { Configuration, Page } from '../src/plan/configuration.ts';
import type { KnownView } from '../src/samples/captured-view.ts';
import type { View } from '../src/samples/view.ts';
import type { Access } from './app/access.ts';
import type { Limits } from './tab/limits.ts';
import type { Stopwatch } from './tab/stopwatch.ts';
import type { Wear } from './theme/wear.ts';

export interface RenderRequest {
  readonly configuration: Configuration;
  readonly views: readonly View[];
  readonly pages: readonly Page[];
  /** Custom properties to trace, besides those that the style sheets declare. */
  readonly dye: readonly string[];
  /** Pages side by side, from 1. */
  readonly workers: number;
  /** Changed colours to put on each view, to see what a repair would do. */
  readonly wear?: (view: View) => Wear | null;
  /** Each theme on a load of its own: an earlier run saw that switching leaves something behind. */
  readonly apart?: boolean;
  /** What an earlier run kept of a view: taken over where the view is still the same. */
  readonly known?: (view: View) => Promise<KnownView | undefined>;
  readonly signal: AbortSignal;
  readonly limits?: Partial<Limits>;
  readonly watch?: Stopwatch;
  /** One that is open already and stays so, except after an abort. */
  readonly browser?: Browser;
  /** How the app is come by: headers, cookies, a sign-in for each worker. */
  readonly access?: Access;
  /** Asked before each view: the time for new ones is over. */
  readonly isOver?: () => boolean;
  /** Told after each load of a page: every address it asked for, its own among them. */
  readonly onVisit?: (page: Page, requested: readonly string[]) => void;
}
