// All that the document is made of, as text: markup, what is filled in, and the rules of every style sheet. Two views with the same
// text and the same picture have the same samples.
import { dom, isDocument } from '../dom.ts';
import { allRoots } from '../rest/freeze.ts';
import { isGivenByComponent } from '../scene/component-ids.ts';
import { openGeneratedIds } from '../scene/generated-ids.ts';
import type { WireSource } from '../wire/wire.ts';

/**
 * Not for reading, but to tell whether anything changed since the last night.
 * @param origin is left out: ports change
 * @param ours sheets that are no part of the document
 */
export async function source(origin: string, ours: ReadonlySet<CSSStyleSheet>): Promise<WireSource> {
  const roots = allRoots();
  const sheets = roots.flatMap((root) =>
    [...dom(root).styleSheets, ...[...dom(root).adoptedStyleSheets].filter((sheet) => !ours.has(sheet))].map((sheet) =>
      textOfSheet(sheet, root),
    ),
  );
  // A blank line more moves no rule, but the lines at which rules are written.
  const lengths = performance
    .getEntriesByType('resource')
    .filter((entry): entry is PerformanceResourceTiming => entry instanceof PerformanceResourceTiming)
    .filter(({ initiatorType }) => initiatorType === 'link' || initiatorType === 'css')
    .map(({ name, decodedBodySize }) => `${name} ${decodedBodySize}`);
  const markup = roots.map(markupOf);
  const texts = [...markup.map(({ text }) => text), JSON.stringify(roots.flatMap(filledIn)), ...sheets];
  // Groups of radio buttons have names.
  const named = roots.flatMap((root) => [...dom(root).querySelectorAll('[id], [name]')]);
  const ids = named.flatMap((el) => [dom(el).id, dom(el).getAttribute('name') ?? '']);
  const counted = new Set(named.filter(isGivenByComponent).map((el) => dom(el).id));
  const text = openGeneratedIds(ids, counted)(JSON.stringify(texts).replaceAll(origin, ''));
  const left = markup.map(({ linesLeftOut }) => linesLeftOut);
  return { ...(await shortened(text)), lengths: JSON.stringify([lengths.toSorted(), left]).replaceAll(origin, '') };
}

/** Megabytes need not travel where the page may hash: on https and on this machine (Secure Contexts). */
async function shortened(text: string): Promise<Pick<WireSource, 'hash' | 'text'>> {
  if (!isSecureContext) return { hash: null, text };
  const bytes = new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)));
  return { hash: [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(''), text: null };
}

interface Markup {
  readonly text: string;
  /** They move the lines at which style elements are written. */
  readonly linesLeftOut: number;
}

/**
 * Nobody sees what is in comments, scripts, hidden fields and what a page says of itself, and it may differ with each load (markers of a
 * library, nonces, tokens against forgery). That they stand there counts: comments part texts, and elements are counted in selectors.
 */
const SILENT = /<!--.*?-->|<script\b.*?<\/script>|<input\b[^>]*\btype="hidden"[^>]*>|<meta\b[^>]*>/gisu;

/** What a page says of itself that changes how it looks (HTML §4.2.5; CSS Viewport 1). */
const TELLING = 'meta[name="viewport" i],meta[name="color-scheme" i],meta[http-equiv="default-style" i]';

function markupOf(root: Document | ShadowRoot): Markup {
  const whole = wholeMarkupOf(root);
  let linesLeftOut = 0;
  const text = whole.replaceAll(SILENT, (part) => {
    linesLeftOut += part.split('\n').length - 1;
    return `<${/\w+|!/u.exec(part)?.[0] ?? ''}>`;
  });
  const telling = [...dom(root).querySelectorAll(TELLING)].map((el) => dom(el).outerHTML);
  return { text: [text, ...telling].join('\n'), linesLeftOut };
}

function wholeMarkupOf(root: Document | ShadowRoot): string {
  if (!isDocument(root)) return root.innerHTML;
  // Drawings and other documents have no body.
  const { documentElement } = dom(root);
  const body = dom(root).querySelector(':root > body');
  if (body === null) return dom(documentElement).outerHTML;
  const head = dom(dom(root).querySelector(':root > head'))?.innerHTML ?? '';
  return [attributesOf(documentElement), head, attributesOf(body), dom(body).innerHTML].join('\n');
}

/** In order of their names: which of a theme's attributes came first depends on what was on before. */
function attributesOf(el: Element): string {
  const named = [...dom(el).attributes].filter(({ name, value }) => name !== 'class' || value !== '');
  return named
    .map(({ name, value }) => `${name}=${JSON.stringify(value)}`)
    .sort()
    .join(' ');
}

/** Controls show what no markup says. */
function filledIn(root: Document | ShadowRoot): readonly unknown[] {
  const controls = 'input:not([type=hidden]),select,textarea';
  return [...dom(root).querySelectorAll<HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement>(controls)].map((control) => {
    const { value, disabled } = control;
    return 'checked' in control ? [value, disabled, control.checked, control.indeterminate] : [value, disabled];
  });
}

function textOfSheet(sheet: CSSStyleSheet, root: Document | ShadowRoot): string {
  const { href, media, disabled } = sheet;
  const about = `${href ?? ''} ${media.mediaText} ${String(disabled)}`;
  try {
    return [about, ...textsOf(sheet.cssRules, root, isOn(media, root))].join('\n');
  } catch {
    // From another origin: what it says shows in the computed styles only.
    return `${about} unreadable`;
  }
}

/** @param applies whether the media around these rules are those of the view */
function textsOf(rules: CSSRuleList, root: Document | ShadowRoot, applies: boolean): readonly string[] {
  return [...rules].flatMap((rule) => {
    // Not `instanceof`: frames have classes of their own.
    if ('media' in rule && 'cssRules' in rule) {
      const { media, cssRules } = rule as CSSMediaRule;
      return [`@media ${media.mediaText}`, ...textsOf(cssRules, root, applies && isOn(media, root)), '}'];
    }
    const text = rule.cssText;
    if (!('selectorText' in rule) || !text.includes('--') || !isDocument(root)) return [text];
    return [textOfRule(rule as CSSStyleRule, text, applies && !matchesNothing(rule as CSSStyleRule, root))];
  });
}

/** Frames have a width of their own. */
function isOn({ mediaText }: MediaList, root: Document | ShadowRoot): boolean {
  const { defaultView } = dom(isDocument(root) ? root : root.ownerDocument);
  return mediaText === '' || (defaultView ?? window).matchMedia(mediaText).matches;
}

/**
 * The values of another theme's tokens are nothing to this view, as long as they refer to nothing: which properties there are, where
 * and whether they refer is all that tracing reads of rules that do not apply (custom-properties.ts).
 */
function textOfRule(rule: CSSStyleRule, text: string, applies: boolean): string {
  if (applies || rule.cssRules.length > 0) return text;
  const { style, selectorText } = rule;
  const kept = [...style].map((name) => {
    const value = style.getPropertyValue(name);
    return name.startsWith('--') && !/var\(|light-dark\(/iu.test(value) ? name : `${name}:${value}`;
  });
  return `${selectorText} not here ${kept.join(';')}`;
}

const PSEUDO_ELEMENT = /::[\w-]+(?:\([^()]*\))?|:(?:before|after|first-line|first-letter)\b/gu;

/** States that the developer tools force hold for styles, and perhaps not for a search. */
const STATE = /:(?:hover|active|focus|target|visited|link)/u;

function matchesNothing({ selectorText, parentRule }: CSSStyleRule, root: Document): boolean {
  if (STATE.test(selectorText)) return false;
  // Nested rules mean what stands around them.
  for (let outer = parentRule; outer !== null; outer = outer.parentRule) if ('selectorText' in outer) return false;
  try {
    return dom(root).querySelector(selectorText.replace(PSEUDO_ELEMENT, ':is(*)')) === null;
  } catch {
    return false;
  }
}
