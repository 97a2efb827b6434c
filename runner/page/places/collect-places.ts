// Areas, shadows, graphics, pictures and targets of the state, with the grounds they lie on.
import { collectAreas } from './areas.ts';
import { attentionOf } from '../scene/attention.ts';
import { exemptions } from '../scene/exempt.ts';
import { framesOf } from './field-edges.ts';
import { collectGraphics } from './graphics.ts';
import type { Grounds } from './grounds.ts';
import type { Identity } from '../scene/identity.ts';
import { markWith } from '../scene/marks.ts';
import { collectPictures } from './pictures.ts';
import type { PlaceFacts } from './place-facts.ts';
import { placeOf } from './place-facts.ts';
import { borderBox, visiblePart } from './places.ts';
import { openSpecks } from './specks.ts';
import type { Scene } from '../scene/scene.ts';
import { collectShadows } from './shadows.ts';
import type { Rules } from '../wire/wire.ts';
import type { WirePlaces, WireTarget } from '../wire/places.ts';

/** @param targets elements that the state acts on */
export function collectPlaces(
  scene: Scene,
  identity: Identity,
  rules: Rules,
  targets: readonly Element[],
  grounds: Grounds,
): WirePlaces {
  const attention = attentionOf(scene);
  const facts: PlaceFacts = {
    scene,
    identity,
    grounds,
    marksOf: markWith(rules, attention),
    inactiveOf: exemptions(attention),
    isVeil: attention.isVeil,
    frames: framesOf(scene),
  };
  const held = new Set(targets);
  const specks = openSpecks(facts);
  const areas = collectAreas(facts, specks);
  const shadows = collectShadows(facts, held);
  const graphics = collectGraphics(facts);
  const pictures = collectPictures(facts);
  return {
    areas,
    specks: specks.list(),
    shadows,
    graphics,
    pictures,
    veils: attention.veils,
    targets: collectTargets(facts, held),
    grounds: facts.grounds.list,
  };
}

function collectTargets(facts: PlaceFacts, held: ReadonlySet<Element>): readonly WireTarget[] {
  if (held.size === 0) return [];
  return facts.scene.entries.flatMap((entry): readonly WireTarget[] => {
    if (!held.has(entry.el) || !entry.visible) return [];
    const rect = visiblePart(borderBox(entry), entry.clip);
    if (rect === null) return [];
    const { outlineStyle, outlineColor } = entry.style;
    const exempt = facts.inactiveOf(entry);
    const left =
      exempt === undefined || exempt.reason === 'decoration' ? {} : { exempt: { reason: exempt.reason, why: exempt.why } };
    return [
      {
        ...placeOf(facts, entry, 'focus'),
        rect,
        outlineStyle,
        outlineColor,
        ...left,
      },
    ];
  });
}
