// A page that rests in its theme and state → picture and samples of one view.
import type { ContrastLevel } from '../src/colour/text-requirement.ts';
import type { Viewport } from '../src/plan/configuration.ts';
import type { CapturedView } from '../src/samples/captured-view.ts';
import type { View } from '../src/samples/view.ts';
import type { Rules } from './page/wire.ts';
import type { Tab } from './tab.ts';
import { takePicture } from './take-picture.ts';
import { NOT_TRACED, textSamples } from './text/text-samples.ts';

export interface CaptureWishes {
  readonly view: View;
  readonly viewport: Viewport;
  readonly level: ContrastLevel;
  readonly rules: Rules;
}

export async function captureView(tab: Tab, wishes: CaptureWishes, notes: readonly string[]): Promise<Omit<CapturedView, 'ms'>> {
  const { view, viewport, level, rules } = wishes;
  const collected = await tab.call('collect', { rules });
  const { width, height, title } = collected.page;
  const most = Math.floor(tab.limits.heightPx / viewport.scale);
  const cut = height > most ? [`the page is ${height} px high; only its first ${most} px were captured`] : [];
  const shown = Math.min(height, most);
  const picture = await takePicture(tab, [0, 0, width, shown], viewport.scale);
  return {
    view,
    status: 'captured',
    page: { title, widthCssPx: width, heightCssPx: shown, scale: viewport.scale },
    shot: picture.png,
    samples: textSamples(view.id, collected.text, level, NOT_TRACED),
    properties: [],
    notes: [...notes, ...collected.page.notes, ...cut],
  };
}
