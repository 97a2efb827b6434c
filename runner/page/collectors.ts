// What is read from a page that rests: one line for each kind of fact. All share one walk and one set of names.
import { collectPlaces } from './collect-places.ts';
import { matches } from './marks.ts';
import type { RunMaker } from './runs.ts';
import type { Scene } from './scene.ts';
import { heldTargets } from './targets.ts';
import { collectText } from './text.ts';
import type { CollectArguments, Collected, WirePage, WireRect } from './wire.ts';

/** What collectors work on. */
export interface Reading {
  readonly scene: Scene;
  readonly maker: RunMaker;
  readonly args: CollectArguments;
}

type Collectors = { readonly [K in keyof Collected]: (reading: Reading) => Collected[K] };

const collectors: Collectors = {
  page: ({ scene, args }) => describePage(scene, args.rules.mask),
  text: ({ maker }) => collectText(maker),
  places: ({ scene, maker, args }) => collectPlaces(scene, maker.identity, args.rules, heldTargets()),
};

export function collectAll(reading: Reading): Collected {
  return { page: collectors.page(reading), text: collectors.text(reading), places: collectors.places(reading) };
}

function describePage(scene: Scene, mask: readonly string[]): WirePage {
  const { width, height, notes } = scene;
  const masked = mask.length === 0 ? [] : scene.entries.filter(({ el }) => mask.some((selector) => matches(el, selector)));
  return {
    title: document.title,
    width,
    height,
    notes,
    restlessPlaces: scene.entries.filter(({ el, visible }) => visible && el.matches('canvas, marquee')).flatMap(placeOf),
    canvases: scene.entries.filter(({ el, visible }) => visible && el.matches('canvas')).flatMap(placeOf),
    masked: masked.flatMap(placeOf),
  };
}

function placeOf({ el, shown }: Scene['entries'][number]): readonly WireRect[] {
  const box = el.getBoundingClientRect();
  return box.width > 0 && box.height > 0 ? [[box.left + shown.dx, box.top + shown.dy, box.width, box.height]] : [];
}
