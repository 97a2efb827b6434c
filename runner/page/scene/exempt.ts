// Text of which WCAG 2.2 asks no contrast (SC 1.4.3 "Incidental"): inactive controls and their labels; and what lies beneath a modal layer.
import { dom } from '../dom.ts';
import type { Attention } from './attention.ts';
import type { Entry } from './scene.ts';
import type { WireRun } from '../wire/wire.ts';

type Exempt = NonNullable<WireRun['exempt']>;

export function exemptions({ behind }: Attention): (entry: Entry) => Exempt | undefined {
  const known = new Map<Entry, Exempt | null>();
  const of = (entry: Entry): Exempt | null => {
    const have = known.get(entry);
    if (have !== undefined) return have;
    const found = own(entry.el) ?? aboveOf(entry);
    known.set(entry, found);
    return found;
  };
  const aboveOf = ({ el, up }: Entry): Exempt | null => {
    if (up === null) return null;
    // Controls in the first legend of a disabled group stay enabled (HTML §4.10.15).
    return el === firstLegend(up.el) ? aboveOf(up) : of(up);
  };
  return (entry) => {
    const why = behind(entry);
    return why === undefined ? (of(entry) ?? undefined) : { reason: 'behind', why };
  };
}

function firstLegend(el: Element): Element | null {
  return dom(el).localName === 'fieldset' && dom(el).matches(':disabled') ? dom(el).querySelector(':scope > legend') : null;
}

function own(el: Element): Exempt | null {
  const why = inactive(el);
  return why === null ? null : { reason: 'inactive', why };
}

function inactive(el: Element): string | null {
  if (isDisabled(el)) return `${dom(el).localName} is disabled`;
  if (dom(el).getAttribute('aria-disabled') === 'true') return `${dom(el).localName} is aria-disabled`;
  if (dom(el).hasAttribute('inert')) return 'inert';
  if (isDeadLink(el)) return 'a link that leads nowhere and takes no pointer';
  const control = dom(el).localName === 'label' ? (el as HTMLLabelElement).control : null;
  if (control !== null && (isDisabled(control) || dom(control).getAttribute('aria-disabled') === 'true'))
    return `label of a disabled ${dom(control).localName}`;
  if (dom(el).id !== '' && labelsDisabled(el)) return 'label of a disabled control';
  return null;
}

/** Without an address it is a placeholder where a link might otherwise be (HTML §4.6.1); style sheets switch it off this way. */
function isDeadLink(el: Element): boolean {
  if (!dom(el).matches('a:not([href],[tabindex])')) return false;
  return !isCurrent(el) && dom(dom(el).ownerDocument).defaultView?.getComputedStyle(el).pointerEvents === 'none';
}

/** Names that authors give to the entry that stands for what is shown (common practice). */
const CURRENT_NAME = /(?:^|[-_])(?:active|current|selected)(?:$|[-_])/iu;

/** The entry of a menu that stands for the page or part that is shown: not to be followed, but to be read. */
function isCurrent(el: Element): boolean {
  return [el, dom(el).parentElement].some((at) => {
    if (at === null || (at !== el && dom(at).localName !== 'li')) return false;
    const said = dom(at).getAttribute('aria-current') ?? dom(at).getAttribute('aria-selected') ?? 'false';
    return said !== 'false' || [...dom(at).classList].some((name) => CURRENT_NAME.test(name));
  });
}

/** Custom elements that are no form controls say it with the same attribute (common practice). */
const isDisabled = (el: Element): boolean =>
  dom(el).matches(':disabled') ||
  (dom(el).localName.includes('-') && dom(el).hasAttribute('disabled') && dom(el).getAttribute('disabled') !== 'false');

function labelsDisabled(el: Element): boolean {
  const root = dom(el).getRootNode();
  if (!('querySelectorAll' in dom(root))) return false;
  const users = dom(root as ParentNode).querySelectorAll(`[aria-labelledby~="${CSS.escape(dom(el).id)}"]`);
  return users.length > 0 && [...users].every((user) => isDisabled(user) || dom(user).getAttribute('aria-disabled') === 'true');
}
