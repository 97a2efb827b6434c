// Frames of another origin: where they lie and on what, for Node to have them read by code of ours in their own document.
import { dom } from './dom.ts';
import { attentionOf } from './scene/attention.ts';
import type { Grounds } from './places/grounds.ts';
import type { Identity } from './scene/identity.ts';
import { visiblePart } from './places/places.ts';
import { colorSchemeOf } from './scene/color-scheme.ts';
import { contentBox } from './scene/content-box.ts';
import type { Scene } from './scene/scene.ts';
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
      address: addressOf(entry.el),
      scheme: colorSchemeOf(entry),
      origin: [box.left, box.top],
      clip: (entry.visible ? visiblePart(box, entry.clip) : null) ?? [0, 0, 0, 0],
      ground: grounds.text.of(entry),
      placeGround: grounds.places.of(entry),
      ...(behind === undefined ? {} : { behind }),
    };
  });
}

/** As the page's author would find it; a document written into the attribute has none. */
function addressOf(el: Element): string {
  const { src = '' } = dom(el) as Partial<HTMLIFrameElement>;
  return dom(el).hasAttribute('srcdoc') ? 'about:srcdoc' : src;
}
