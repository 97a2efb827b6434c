// Closed shadow trees of a page, handed to the in-page code: from then on they are read like open ones.
import type { Tab } from './tab.ts';

/**
 * Only where the browser counts more nodes than the in-page code knows is the whole tree asked for. Not while pseudo-classes are forced:
 * that forgets them.
 * @returns how many were found that were not known
 */
export async function revealClosedTrees(tab: Tab): Promise<number> {
  const { driver } = tab;
  if (!driver.can.has('closed-trees')) return 0;
  const count = await tab.guard('counting nodes', driver.countNodes());
  if (count <= (await tab.call('countNodes', null))) return 0;
  const found = await tab.guard('reading the whole document', driver.closedTrees());
  return found.length === 0 ? 0 : tab.world.reveal(found);
}
