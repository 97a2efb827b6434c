// Style sheets of a page → the rules that colour it, with the conditions they stand under.
import { dom, meetTree } from '../dom.ts';
import type { WireRule, WireStyles } from '../wire/explore.ts';

const COLOR_PROPERTY = /^(color|background|background-color|background-image|fill|stroke|filter|box-shadow|.*-color)$/;

export function exploreStyles({
  texts,
}: {
  readonly texts: readonly { readonly sheet: string; readonly text: string }[];
}): WireStyles {
  const rules: WireRule[] = [];
  const widths = new Set<string>();
  const unread: string[] = [];
  const given = new Map(texts.map(({ sheet, text }) => [sheet, text]));

  for (const root of roots(document)) {
    for (const sheet of [...dom(root).styleSheets, ...dom(root).adoptedStyleSheets]) readSheet(sheet);
  }
  const meta = dom(document).querySelector<HTMLMetaElement>('meta[name=viewport]');
  const fitsSmall = meta?.content.includes('device-width') ?? false;
  return { rules, widths: [...widths], unread, fitsSmall, ...inUse() };

  function readSheet(sheet: CSSStyleSheet): void {
    const address = sheet.href ?? '';
    const readable = rulesOf(sheet) ?? fromText(given.get(address));
    if (readable === null) unread.push(address);
    else readRules(readable, { media: [], parent: '', sheet: address });
  }

  function readRules(
    list: Iterable<CSSRule>,
    around: { readonly media: readonly string[]; readonly parent: string; readonly sheet: string },
  ): void {
    for (const rule of list) {
      if (rule instanceof CSSImportRule) {
        if (rule.styleSheet !== null) readSheet(rule.styleSheet);
      } else if (rule instanceof CSSStyleRule) {
        const selector = nested(rule.selectorText, around.parent);
        addRule(selector, rule.style, around);
        readRules(rule.cssRules, { ...around, parent: selector });
      } else if (rule instanceof CSSMediaRule) {
        const condition = rule.media.mediaText;
        if (/width/.test(condition)) widths.add(condition);
        readRules(rule.cssRules, { ...around, media: [...around.media, condition] });
      } else if ('cssRules' in rule && rule.cssRules instanceof CSSRuleList && !(rule instanceof CSSKeyframesRule)) {
        readRules(rule.cssRules, around);
      } else if ('style' in rule && rule.style instanceof CSSStyleDeclaration && around.parent !== '') {
        // Declarations behind a nested rule.
        addRule(around.parent, rule.style, around);
      }
    }
  }

  function addRule(
    selector: string,
    style: CSSStyleDeclaration,
    around: { readonly media: readonly string[]; readonly sheet: string },
  ): void {
    const names = [...style];
    const properties = names.filter((name) => name.startsWith('--'));
    const colors = names.filter((name) => COLOR_PROPERTY.test(name)).length;
    const scheme = style.getPropertyValue('color-scheme');
    if (properties.length + colors === 0 && scheme === '') return;
    const lightDark = style.cssText.includes('light-dark(');
    rules.push({
      selector,
      root: isRoot(selector),
      media: around.media,
      properties,
      colors,
      scheme,
      lightDark,
      sheet: around.sheet,
    });
  }
}

function isRoot(selector: string): boolean {
  try {
    return dom(dom(document).documentElement).matches(selector) || dom(dom(document).body).matches(selector);
  } catch {
    return false;
  }
}

/** More on one page are not kept. */
const MOST_NAMES = 5_000;

function inUse(): Pick<WireStyles, 'classes' | 'attributes'> {
  const classes = new Set<string>();
  const attributes = new Set<string>();
  for (const el of dom(dom(document).body).querySelectorAll('*')) {
    if (classes.size + attributes.size > MOST_NAMES) break;
    for (const name of dom(el).classList) classes.add(name);
    for (const { name, value } of dom(el).attributes)
      if (!['class', 'style', 'id'].includes(name) && value.length < 40) attributes.add(`${name}=${value}`);
  }
  return { classes: [...classes], attributes: [...attributes] };
}

/** The document and every open shadow root in it. */
function* roots(root: Document | ShadowRoot): Generator<Document | ShadowRoot> {
  yield root;
  for (const el of dom(root).querySelectorAll('*')) {
    const tree = dom(el).shadowRoot;
    if (tree !== null) yield* roots(meetTree(tree));
  }
}

/** Null where the style sheet is of another origin. */
function rulesOf(sheet: CSSStyleSheet): Iterable<CSSRule> | null {
  try {
    return sheet.cssRules;
  } catch {
    return null;
  }
}

function fromText(text: string | undefined): Iterable<CSSRule> | null {
  if (text === undefined) return null;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(text);
  return sheet.cssRules;
}

function nested(selector: string, parent: string): string {
  if (parent === '') return selector;
  const around = parent.includes(',') ? `:is(${parent})` : parent;
  return selector.includes('&') ? selector.replaceAll('&', around) : `${around} ${selector}`;
}
