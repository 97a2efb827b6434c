// Where the tab is and what a person would see there first: told apart from what was asked for by landing.ts.
import { dom } from '../dom.ts';
import type { WireLanded } from '../wire/wire.ts';

/** Code units of a title or heading; for messages. */
const MOST = 80;

export function landed(): WireLanded {
  const [entry] = performance.getEntriesByType('navigation');
  const loaded = entry instanceof PerformanceNavigationTiming ? entry : undefined;
  const heading = [...dom(document).querySelectorAll('h1,h2,h3,[role=heading]')].find(isSeen);
  return {
    href: location.href,
    loadedFrom: loaded?.name ?? location.href,
    status: loaded?.responseStatus ?? 0,
    title: short(dom(document).querySelector('title')?.textContent ?? ''),
    heading: short(dom(heading)?.textContent ?? ''),
    asksPassword: [...dom(document).querySelectorAll('input[type=password]')].some(isSeen),
  };
}

function isSeen(el: Element): boolean {
  return dom(el).checkVisibility({ visibilityProperty: true });
}

function short(text: string): string {
  const plain = text.replace(/\s+/gu, ' ').trim();
  return plain.length > MOST ? `${plain.slice(0, MOST)}…` : plain;
}
