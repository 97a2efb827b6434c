// What an icon may be drawn in besides what icons are: words' inks, where its surface's words say so.
import { isCalledFor, saysOtherInk } from '../cases/name-words.ts';
import { familyOf } from '../cases/usage.ts';
import type { Ground } from './candidate.ts';
import type { KnownSite } from './known-site.ts';

/** For an icon that is written out where no icon takes a token: what words on the same surface are drawn in, as icons in the text's colour are. */
export function wordsThere({ usage }: Ground, { role, current, grounds }: KnownSite): ReadonlySet<number> {
  if (role !== 'glyph' || current >= 0) return NONE;
  if (grounds.some((each) => usage.on(role, each).size > 0)) return NONE;
  const own = usage.as(role);
  return new Set(grounds.flatMap((each) => [...usage.on('ink', each).keys()]).filter((token) => !own.has(token)));
}

const NONE: ReadonlySet<number> = new Set();

/** By its name, or by its use: words take it here, and no icon anywhere, though it is not called after what it lies on. */
export function isWordsInk(ground: Ground, place: KnownSite, token: number): boolean {
  if (saysOtherInk(place.role, ground.world.index.pathOf(token))) return true;
  return wordsThere(ground, place).has(token) && !isCalledAfter(ground, place, token);
}

/** An ink that bears the whole name of the surface: `--pier-foreground` on `--pier`. */
export function isCalledAfter({ world: { index } }: Ground, { role, grounds }: KnownSite, token: number): boolean {
  const path = index.pathOf(token);
  if (role !== 'ink' && role !== 'glyph') return false;
  return isCalledFor(role, path) && grounds.some((each) => familyOf(path) === index.pathOf(each));
}
