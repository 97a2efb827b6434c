// The calls of a first look at an app.
import { exploreControls, exploreUse } from './explore-controls.ts';
import { explorePaint } from './explore-paint.ts';
import { exploreStyles } from './explore-styles.ts';
import { exploreTraces } from './explore-traces.ts';
import type { ExploreCalls } from './explore-wire.ts';

type Calls = { readonly [K in keyof ExploreCalls]: (args: ExploreCalls[K]['args']) => ExploreCalls[K]['result'] };

export const exploreCalls: Calls = { exploreStyles, explorePaint, exploreControls, exploreTraces, exploreUse };
