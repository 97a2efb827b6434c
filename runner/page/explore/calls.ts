// The calls of a first look at an app.
import { exploreControls, exploreUse } from './controls.ts';
import { explorePaint } from './paint.ts';
import { exploreStyles } from './styles.ts';
import { exploreTraces } from './traces.ts';
import type { ExploreCalls } from '../wire/explore.ts';

type Calls = { readonly [K in keyof ExploreCalls]: (args: ExploreCalls[K]['args']) => ExploreCalls[K]['result'] };

export const exploreCalls: Calls = { exploreStyles, explorePaint, exploreControls, exploreTraces, exploreUse };
