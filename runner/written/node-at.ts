// Selector of a sample → element as the browser's styles name it, through shadow trees and same-origin frames.
import type { Styles } from '../driver/page-driver.ts';
import type { Tab } from '../tab/tab.ts';

/** @returns null when it finds nothing */
export async function nodeAt(tab: Tab, styles: Styles, selector: string, root: number): Promise<number | null> {
  let at: number | null = root;
  const parts = selector.split(' >>> ');
  for (const [index, part] of parts.entries()) {
    if (at === null) return null;
    const found: number | null = await tab.guard('finding an element', styles.find(at, part));
    if (found === null) return null;
    at = index === parts.length - 1 ? found : await tab.guard('finding an element', styles.inside(found));
  }
  return at;
}
