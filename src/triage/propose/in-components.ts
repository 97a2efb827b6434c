// A new value of a colour that is built from custom properties → what these are to say, in the notation of whoever wrote them.
import type { Rebuilt } from '../../colour/built-color.ts';
import { builtColor, rebuild } from '../../colour/built-color.ts';
import type { ValueChange } from '../recolor/change.ts';
import { evaluate } from '../choose/evaluate.ts';
import { recoloringOf } from '../recolor/make-recoloring.ts';
import type { Built } from '../tokens/token-table.ts';
import type { Ground, IsOpen } from './candidate.ts';
import { weightIn } from './candidate.ts';
import { paintable } from './nearby-colors.ts';

/**
 * The fewest properties and digits first, and those that mend as much and break no more, with all that is known to be built from the same
 * properties. @param spoils whether a colour disturbs the ramp @returns the change as it is where none does
 */
export function inComponents(
  ground: Ground,
  change: ValueChange,
  by: { readonly isOpen: IsOpen; readonly spoils: (color: ValueChange['color']) => boolean },
): ValueChange {
  const { world } = ground;
  const [theme = -1] = change.themes;
  const built = world.index.table.tokens[change.token]?.built?.[theme] ?? null;
  if (built === null) return change;
  const meant = evaluate(world, recoloringOf(change, world), { quick: true });
  for (const each of rebuild(built.text, (name) => built.numbers.get(name), change.color)) {
    const tried = rebuiltChange(ground, change, built, each);
    if (by.spoils(tried.color)) continue;
    const outcome = evaluate(world, recoloringOf(tried, world), { quick: true });
    if (weightIn(outcome.mended, by.isOpen) >= weightIn(meant.mended, by.isOpen) && outcome.harm <= meant.harm) return tried;
  }
  return change;
}

function rebuiltChange({ world }: Ground, change: ValueChange, built: Built, { texts, color }: Rebuilt): ValueChange {
  const [theme = -1] = change.themes;
  const shared = world.index.table.tokens.flatMap((other, token) => {
    const here = other.built?.[theme] ?? null;
    // What points at the changed token moves with it.
    const isApart = token !== change.token && other.definitions[theme]?.kind === 'literal';
    if (here === null || !isApart || ![...texts.keys()].some((name) => here.numbers.has(name))) return [];
    const then = builtColor(here.text, (name) => texts.get(name) ?? here.numbers.get(name));
    return then === null ? [] : [{ token, color: paintable(then) }];
  });
  return {
    ...change,
    color: paintable(color),
    components: [...texts].map(([property, to]) => ({ property, from: built.numbers.get(property) ?? '', to })),
    ...(shared.length === 0 ? {} : { shared }),
  };
}
