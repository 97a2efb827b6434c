// Frames of another origin: where they lie and on what, for Node to have them read by code of ours in their own document.
import { dom } from './dom.ts';
import { attentionOf } from './scene/attention.ts';
import type { Grounds } from './places/grounds.ts';
import type { Identity } from './scene/identity.ts';
import { visiblePart } from './places/places.ts';
import type { Box, Entry, Scene } from './scene/scene.ts';
import type { WireFarFrame } from './wire/wire.ts';

/** In the order of `scene.far`; one that cannot be seen has an empty clip. */
export function collectFarFrames(
  scene: Scene,
  identity: Identity,
  grounds: { readonly text: Grounds; readonly places: Grounds },
): readonly WireFarFrame[] {
  const attention = attentionOf(scene);
  return scene.far.map((entry) => {
    const box = contentBox(entry);
    const behind = attention.behind(entry);
    return {
      selector: identity.selectorOf(entry),
      key: identity.keyOf(entry),
      address: dom(entry.el).getAttribute('src') ?? '',
      origin: [box.left, box.top],
      clip: (entry.visible ? visiblePart(box, entry.clip) : null) ?? [0, 0, 0, 0],
      ground: grounds.text.of(entry),
      placeGround: grounds.places.of(entry),
      ...(behind === undefined ? {} : { behind }),
    };
  });
}

function contentBox({ el, style, shown }: Entry): Box {
  const { left, top } = dom(el).getBoundingClientRect();
  const x = left + shown.dx + dom(el).clientLeft + Number.parseFloat(style.paddingLeft);
  const y = top + shown.dy + dom(el).clientTop + Number.parseFloat(style.paddingTop);
  const width = dom(el).clientWidth - Number.parseFloat(style.paddingLeft) - Number.parseFloat(style.paddingRight);
  const height = dom(el).clientHeight - Number.parseFloat(style.paddingTop) - Number.parseFloat(style.paddingBottom);
  return { left: x, top: y, right: x + width, bottom: y + height };
}
