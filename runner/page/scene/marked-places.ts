// Which elements have an exemption or an owner, by the selectors that samples have.
import { identify } from './identity.ts';
import { configuredMarks } from './marks.ts';
import type { Scene } from './scene.ts';
import type { MarkedPlace, Rules } from '../wire/wire.ts';

export function markedPlaces(scene: Scene, rules: Rules): readonly MarkedPlace[] {
  const identity = identify(scene);
  const marksOf = configuredMarks(rules);
  return scene.entries.flatMap((entry) => {
    const { exemptions, owner } = marksOf(entry);
    if (exemptions === undefined && owner === undefined) return [];
    return [
      {
        selector: identity.selectorOf(entry),
        ...(exemptions === undefined ? {} : { exemptions }),
        ...(owner === undefined ? {} : { owner }),
      },
    ];
  });
}
