// The calls into a page that tracing makes; a `Tab` has this shape.
import type { DyeCalls } from '../page/wire/dye.ts';

export interface DyeTab {
  call<K extends keyof DyeCalls>(name: K, args: DyeCalls[K]['args']): Promise<DyeCalls[K]['result']>;
}
