// Text of which WCAG 2.2 asks no contrast (SC 1.4.3 "Incidental"): inactive controls and their labels, pure decoration.
import type { Entry } from './scene.ts';
import type { WireRun } from './wire.ts';

type Exempt = NonNullable<WireRun['exempt']>;

export function exemptions(): (entry: Entry) => Exempt | undefined {
  const known = new Map<Entry, Exempt | null>();
  // A modal dialog makes everything outside it inert (HTML §6.3.1).
  const modals = new Set(document.querySelectorAll(':modal'));
  const top: Exempt | null = modals.size === 0 ? null : { reason: 'inactive', why: 'behind a modal dialog' };
  const of = (entry: Entry): Exempt | null => {
    const have = known.get(entry);
    if (have !== undefined) return have;
    const above = (): Exempt | null => (entry.up === null ? top : modals.has(entry.el) ? null : of(entry.up));
    const found = own(entry.el) ?? above();
    known.set(entry, found);
    return found;
  };
  return (entry) => of(entry) ?? undefined;
}

function own(el: Element): Exempt | null {
  const why = inactive(el);
  return why === null ? null : { reason: 'inactive', why };
}

function inactive(el: Element): string | null {
  if (isDisabled(el)) return `${el.localName} is disabled`;
  if (el.getAttribute('aria-disabled') === 'true') return `${el.localName} is aria-disabled`;
  if (el.hasAttribute('inert')) return 'inert';
  if (isDeadLink(el)) return 'a link that leads nowhere and takes no pointer';
  const control = el.localName === 'label' ? (el as HTMLLabelElement).control : null;
  if (control !== null && (isDisabled(control) || control.getAttribute('aria-disabled') === 'true'))
    return `label of a disabled ${control.localName}`;
  if (el.id !== '' && labelsDisabled(el)) return 'label of a disabled control';
  return null;
}

/** Without an address it is a placeholder where a link might otherwise be (HTML §4.6.1); style sheets switch it off this way. */
function isDeadLink(el: Element): boolean {
  if (!el.matches('a:not([href],[tabindex])')) return false;
  return el.ownerDocument.defaultView?.getComputedStyle(el).pointerEvents === 'none';
}

const isDisabled = (el: Element): boolean => el.matches(':disabled');

function labelsDisabled(el: Element): boolean {
  const root = el.getRootNode();
  if (!('querySelectorAll' in root)) return false;
  const users = (root as ParentNode).querySelectorAll(`[aria-labelledby~="${CSS.escape(el.id)}"]`);
  return users.length > 0 && [...users].every((user) => isDisabled(user) || user.getAttribute('aria-disabled') === 'true');
}
