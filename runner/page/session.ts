// What the in-page code holds between two calls, and what it has put on the page: one object for each document, gone with it.
import type { Reading } from './collectors.ts';
import type { Stillness } from './rest/freeze.ts';
import { openStillness } from './rest/freeze.ts';
import type { Pace } from './rest/rest.ts';
import type { Targets } from './scene/targets.ts';
import { openTargets } from './scene/targets.ts';
import type { Walk } from './scene/walk.ts';
import { openWalk } from './scene/walk.ts';
import type { Asked } from './styles/dye.ts';
import type { SheetReader } from './styles/sheet-rules.ts';
import { openSheetReader } from './styles/sheet-rules.ts';
import type { Wardrobe } from './styles/put-on.ts';
import { openWardrobe } from './styles/put-on.ts';
import type { VeilOn } from './styles/veil.ts';
import { openVeil } from './styles/veil.ts';
import type { Worn } from './styles/wear.ts';
import { openWorn } from './styles/wear.ts';

export interface PageSession {
  /** The theme that is put on in place. */
  readonly wardrobe: Wardrobe;
  /** What a state acts on. */
  readonly targets: Targets;
  readonly walk: Walk;
  readonly stillness: Stillness;
  readonly veil: VeilOn;
  readonly worn: Worn;
  readonly sheetReader: SheetReader;
  pace: Pace;
  /** What was collected last: later calls name its runs by index. */
  reading: Reading | null;
  /** What `dyed` reads. */
  asked: Asked;
}

export function openSession(): PageSession {
  return {
    wardrobe: openWardrobe(),
    targets: openTargets(),
    walk: openWalk(),
    stillness: openStillness(),
    veil: openVeil(),
    worn: openWorn(),
    sheetReader: openSheetReader(),
    pace: { ticks: true },
    reading: null,
    asked: { targets: [] },
  };
}

/** @throws where nothing was collected yet */
export function collectedIn({ reading }: PageSession): Reading {
  if (reading === null) throw new Error('nothing was collected yet');
  return reading;
}
