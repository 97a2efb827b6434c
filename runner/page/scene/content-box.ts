// The box that a frame shows its document in, page coordinates.
import { dom } from '../dom.ts';

/** What is asked of an entry of the scene. */
interface Framed {
  readonly el: Element;
  readonly style: CSSStyleDeclaration;
  readonly shown: { readonly dx: number; readonly dy: number };
}

interface Edges {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export function contentBox({ el, style, shown }: Framed): Edges {
  const { left, top } = dom(el).getBoundingClientRect();
  const x = left + shown.dx + dom(el).clientLeft + Number.parseFloat(style.paddingLeft);
  const y = top + shown.dy + dom(el).clientTop + Number.parseFloat(style.paddingTop);
  const width = dom(el).clientWidth - Number.parseFloat(style.paddingLeft) - Number.parseFloat(style.paddingRight);
  const height = dom(el).clientHeight - Number.parseFloat(style.paddingTop) - Number.parseFloat(style.paddingBottom);
  return { left: x, top: y, right: x + width, bottom: y + height };
}
