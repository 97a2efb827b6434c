// What is read from a page that rests: one line for each kind of fact. All share one walk and one set of names.
import type { Identity } from './identity.ts';
import type { Scene } from './scene.ts';
import { collectText } from './text.ts';
import type { CollectArguments, Collected } from './wire.ts';

type Collectors = { readonly [K in keyof Collected]: (scene: Scene, identity: Identity, args: CollectArguments) => Collected[K] };

export const collectors = {
  page: (scene) => ({ title: document.title, width: scene.width, height: scene.height, notes: scene.notes }),
  text: (scene, identity, args) => collectText(scene, identity, args.rules),
} satisfies Collectors;
