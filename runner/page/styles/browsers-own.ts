// What the browser's own rules may have a part in: inks and frames that it gives to elements without being told.
import { isInherited, takesInkUnset } from '../color-properties.ts';
import { dom } from '../dom.ts';

/** An element, or a part of one. */
export interface Holder {
  readonly el: Element;
  /** `before`, `placeholder`, …; '' for the element itself. */
  readonly part: string;
}

/** What it says cannot be said for this place. */
export class Unsure extends Error {}

/** Elements to which browsers give an ink of their own. */
const COLOURED = new Set(
  'a area mark input textarea select button meter progress option optgroup hr dialog table fieldset legend summary'.split(' '),
);
/** Whose borders take the colour of those around them. */
const BORDERED = /^(?:thead|tbody|tfoot|tr|td|th|col|colgroup)$/u;

/** What the browser's own rules go by. @throws Unsure where they hand on what is around */
export function ofBrowser({ el, part }: Holder, property: string): string {
  if (part !== '') return '';
  const { localName } = dom(el);
  if (takesInkUnset(property) && BORDERED.test(localName)) throw new Unsure();
  if (isInherited(property) && !COLOURED.has(localName)) return '';
  const states = [
    ':disabled',
    ':any-link',
    ':checked',
    ':autofill',
    ':focus-visible',
    '[popover]',
    '[multiple]',
    '[size]',
    '[open]',
  ];
  return [localName, dom(el).getAttribute('type') ?? '', ...states.filter((state) => dom(el).matches(state))].join(',');
}

/** Parts for which browsers set no colour. */
const PLAIN_PARTS = new Set(['', 'before', 'after']);
/** Elements that are framed by browsers. */
const FRAMED = new Set('iframe object embed img frame frameset'.split(' '));

/** The browser's own rules may set it where nothing of the page does. */
export function mayBeBrowsers({ el, part }: Holder, property: string): boolean {
  if (property.startsWith('--')) return false;
  if (!PLAIN_PARTS.has(part)) return true;
  if (part !== '') return false;
  const { localName } = dom(el);
  return (
    COLOURED.has(localName) ||
    (takesInkUnset(property) && FRAMED.has(localName)) ||
    dom(el).matches('[popover], :focus-visible, :autofill')
  );
}

/** There the browser's own colours come before those of the page. */
export function isFilledIn({ el }: Holder): boolean {
  return dom(el).matches('input:autofill, select:autofill, textarea:autofill');
}
