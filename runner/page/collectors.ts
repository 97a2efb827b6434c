// What is read from a page that rests. All kinds of facts share one walk and one set of names.
import { dom } from './dom.ts';
import { collectPlaces } from './places/collect-places.ts';
import { collectFarFrames } from './far-frames.ts';
import { allRoots } from './rest/freeze.ts';
import { loadingSign } from './rest/loading-signs.ts';
import { groundsOf } from './places/grounds.ts';
import { matches } from './scene/marks.ts';
import type { RunMaker } from './text/runs.ts';
import type { Scene } from './scene/scene.ts';
import { collectText } from './text/text.ts';
import type { CollectArguments, Collected, WirePage, WireRect } from './wire/wire.ts';

/** What collectors work on. */
export interface Reading {
  readonly scene: Scene;
  readonly maker: RunMaker;
  readonly args: CollectArguments;
  /** In the state that the page is in. */
  readonly targets: readonly Element[];
}

export function collectAll({ scene, maker, args, targets }: Reading): Collected {
  const grounds = { text: maker.grounds, places: groundsOf(maker.identity) };
  const places = collectPlaces(scene, maker.identity, args.rules, targets, grounds.places);
  const text = collectText(maker);
  const farFrames = collectFarFrames(scene, maker.identity, grounds);
  return {
    page: describePage(scene, args.rules.mask),
    text,
    places,
    farFrames,
  };
}

function describePage(scene: Scene, mask: readonly string[]): WirePage {
  const { width, height } = scene;
  const masked = mask.length === 0 ? [] : scene.entries.filter(({ el }) => mask.some((selector) => matches(el, selector)));
  return {
    title: dom(document).title,
    loading: loadingSign(allRoots()),
    width,
    height,
    restlessPlaces: scene.entries.filter(({ el, visible }) => visible && dom(el).matches('canvas, marquee')).flatMap(boxOf),
    canvases: scene.entries.filter(({ el, visible }) => visible && dom(el).matches('canvas')).flatMap(boxOf),
    masked: masked.flatMap(boxOf),
  };
}

function boxOf({ el, shown }: Scene['entries'][number]): readonly WireRect[] {
  const box = dom(el).getBoundingClientRect();
  return box.width > 0 && box.height > 0 ? [[box.left + shown.dx, box.top + shown.dy, box.width, box.height]] : [];
}
