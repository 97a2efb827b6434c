// A token that fails only where it is used as what it is not meant for is not to blame: its use is.
import type { Ground } from './candidate.ts';
import type { CaseFault } from '../world.ts';

/** Share of the faults' weight, 0–1, at places that use `token` (or what hangs on it) as something it is not meant for. */
export function strangeShare(ground: Ground, faults: readonly CaseFault[], token: number): number {
  const { world, usage } = ground;
  let all = 0;
  let strange = 0;
  for (const { case: one, weight } of faults) {
    all += weight;
    const { fore } = one;
    if (fore.kind !== 'token' || !world.index.chainOf(one.theme, fore.token).includes(token)) continue;
    if (usage.isStrangeAs(one.role, fore.token)) strange += weight;
  }
  return all === 0 ? 0 : strange / all;
}
