// What all collectors of places share about an element: its name for people, its part on the page, its opacity, what it lies on.
import { dom } from '../dom.ts';
import type { Grounds } from './grounds.ts';
import { CONTROLS } from './in-control.ts';
import type { Identity } from '../scene/identity.ts';
import type { Pseudo } from './places.ts';
import type { Entry, Scene } from '../scene/scene.ts';
import type { WireMarks } from '../wire/wire.ts';
import type { WirePlace } from '../wire/places.ts';

const LABEL = 120;
/** Longer texts are content, not names. */
const OWN_TEXT = 60;

export interface PlaceFacts {
  readonly scene: Scene;
  readonly identity: Identity;
  readonly grounds: Grounds;
  readonly marksOf: (entry: Entry) => WireMarks;
  readonly inactiveOf: (
    entry: Entry,
  ) => { readonly reason: 'inactive' | 'decoration' | 'behind'; readonly why: string } | undefined;
  /** Whether its own box, or its pseudo-element, is a veil between the page and a modal layer. */
  readonly isVeil: (entry: Entry, which?: Pseudo) => boolean;
  /** What is built around fields that have no edge of their own, and the field in each. */
  readonly frames: ReadonlyMap<Entry, Entry>;
}

/** @param kind tells samples of one element apart: `face`, `icon`, `box-shadow` … */
export function placeOf(facts: PlaceFacts, entry: Entry, kind: string): Omit<WirePlace, 'rect'> {
  const label = labelOf(entry);
  const opacity = opacityOf(entry);
  return {
    selector: facts.identity.selectorOf(entry),
    key: `${facts.identity.keyOf(entry)}|${kind}`,
    ground: entry.up === null ? -1 : facts.grounds.of(entry.up),
    ...(opacity === 1 ? {} : { opacity }),
    ...(label === '' ? {} : { label }),
    ...facts.marksOf(entry),
  };
}

/** Less than this share of a box is not seen (ours: below one code of eight bits, mostly). */
export const LEAST_OPACITY = 0.01;

const opacities = new WeakMap<Entry, number>();

/** Of the element and all it lies in. */
export function opacityOf(entry: Entry): number {
  const known = opacities.get(entry);
  if (known !== undefined) return known;
  const chain: Entry[] = [];
  let above = 1;
  for (let at: Entry | null = entry; at !== null; at = at.up) {
    const have = opacities.get(at);
    if (have !== undefined) {
      above = have;
      break;
    }
    chain.push(at);
  }
  for (const link of chain.reverse()) {
    above *= Number(link.own.opacity);
    opacities.set(link, above);
  }
  return above;
}

function labelOf({ el }: Entry): string {
  const named = dom(el).getAttribute('aria-label') ?? dom(el).getAttribute('alt') ?? dom(el).getAttribute('title') ?? '';
  if (named.trim() !== '') return shorten(named);
  if (!dom(el).matches(CONTROLS) && !dom(el).matches('a, label, h1, h2, h3')) return '';
  const text = shorten(dom(el).textContent);
  return text.length > OWN_TEXT ? '' : text;
}

function shorten(text: string): string {
  return text.replace(/\s+/gu, ' ').trim().slice(0, LABEL);
}

/** Own or inherited name for assistive technology; what makes a graphic meaningful where there is no text. */
export function accessibleName(el: Element): string {
  const by = (dom(el).getAttribute('aria-labelledby') ?? '').split(/\s+/u).filter((id) => id !== '');
  const root = dom(el).getRootNode();
  const texts = by.map((id) =>
    root instanceof Document || root instanceof ShadowRoot ? (dom(dom(root).getElementById(id))?.textContent ?? '') : '',
  );
  const named =
    texts.join(' ').trim() || (dom(el).getAttribute('aria-label') ?? '').trim() || (dom(el).getAttribute('alt') ?? '').trim();
  if (named !== '') return shorten(named);
  const title =
    dom(el).localName === 'svg' ? dom(dom(el).querySelector(':scope > title'))?.textContent : dom(el).getAttribute('title');
  return shorten(title ?? '');
}
