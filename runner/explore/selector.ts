// A CSS selector → the attributes and classes in it that might switch a theme, and the part each plays. Not a full parser
// (Selectors 4): it splits at commas and combinators, looks into :is(), :where() and :host(), and leaves the rest aside.

/** A class or an attribute value that may be put on an element. */
export type Switch =
  { readonly kind: 'class'; readonly name: string } | { readonly kind: 'attribute'; readonly name: string; readonly value: string };

export interface SwitchUse {
  readonly switch: Switch;
  /** Selector of what carries it: `html`, `body`, `.app`, or null where the selector does not say. */
  readonly on: string | null;
  /** `self`: the rule styles the carrier; `inside`: what is in it. */
  readonly part: 'self' | 'inside';
}

/** One element's worth of a selector, and whether more follows behind a combinator. */
interface Compound {
  readonly text: string;
  readonly last: boolean;
}

export function switchesIn(selectorList: string): readonly SwitchUse[] {
  return splitAt(selectorList, ',').flatMap((selector) => usesOf(selector.trim(), false));
}

/** @param inside the whole selector stands where only ancestors are meant (`:is(.dusk *)`) */
function usesOf(selector: string, inside: boolean): readonly SwitchUse[] {
  return compounds(selector).flatMap(({ text, last }) => {
    const part = last && !inside ? 'self' : 'inside';
    const own = simpleSwitches(text);
    const nested = functionsIn(text).flatMap(({ name, argument }) =>
      ['is', 'where', 'host', 'host-context', '-webkit-any', 'matches'].includes(name)
        ? splitAt(argument, ',').flatMap((inner) => nestedUses(inner.trim(), text, part))
        : [],
    );
    return [...own.map((written) => ({ switch: written.found, on: carrier(text, written), part }) as const), ...nested];
  });
}

function nestedUses(inner: string, outer: string, part: SwitchUse['part']): readonly SwitchUse[] {
  // `.x:is(.dusk *)`: the subject lies in .dusk. `html:is(.dusk)`: html itself is .dusk.
  const uses = usesOf(inner, part === 'inside' || /[\s>]\*$/.test(inner));
  const around = /^(html|body|:root)\b/.exec(outer)?.[1];
  return around === undefined ? uses : uses.map((use) => (use.on === null ? { ...use, on: rootName(around) } : use));
}

function compounds(selector: string): readonly Compound[] {
  const parts = splitAtCombinators(selector);
  return parts.map((text, i) => ({ text, last: i === parts.length - 1 }));
}

/** As written in the compound, and what it is. */
interface Written {
  readonly raw: string;
  readonly found: Switch;
}

/** Classes and `[name=value]` that stand directly in a compound, not inside a function. */
function simpleSwitches(compound: string): readonly Written[] {
  const plain = withoutFunctions(compound);
  const attributes = [
    ...plain.matchAll(/\[\s*([\w-]+)\s*(?:([~|^$*]?=)\s*(?:"([^"]*)"|'([^']*)'|([^\]\s]+))\s*[is]?\s*)?\]/g),
  ].flatMap(([raw, name = '', operator, double, single, bare]): Written[] => {
    const value = operator === undefined ? '' : unescape(double ?? single ?? bare ?? '');
    return operator === undefined || operator === '=' || operator === '~='
      ? [{ raw, found: { kind: 'attribute', name, value } }]
      : [];
  });
  const classes = [...plain.replace(/\[[^\]]*\]/g, '').matchAll(/\.((?:\\.|[\w-]|[^\u0000-\u007f])+)/g)].map(
    ([raw, name = '']): Written => ({ raw, found: { kind: 'class', name: unescape(name) } }),
  );
  return [...attributes, ...classes];
}

/** What is left of the compound without the switch; null where nothing is. */
function carrier(compound: string, { raw }: Written): string | null {
  const own = withoutFunctions(compound)
    .replace(raw, '')
    .replace(/::?[\w-]+/g, (pseudo) => (pseudo === ':root' || pseudo === ':host' ? pseudo : ''));
  return own === '' || own === '*' ? null : rootName(own);
}

function rootName(text: string): string {
  return text === ':root' ? 'html' : text;
}

function unescape(text: string): string {
  return text.replace(/\\(.)/g, '$1');
}

function withoutFunctions(text: string): string {
  let depth = 0;
  let out = '';
  for (const c of text.replace(/:[\w-]+\(/g, (name) => `\u0001${name.slice(0, -1)}(`)) {
    if (c === '(') depth += 1;
    else if (c === ')') depth -= 1;
    else if (depth === 0) out += c;
  }
  return out.replace(/\u0001:[\w-]+/g, '');
}

function functionsIn(text: string): readonly { readonly name: string; readonly argument: string }[] {
  const found: { name: string; argument: string }[] = [];
  for (const match of text.matchAll(/:([\w-]+)\(/g)) {
    const start = match.index + match[0].length;
    // A function inside another is found when its outer one is read.
    if (depthAt(text, match.index) > 0) continue;
    let depth = 1;
    let end = start;
    while (end < text.length && depth > 0) {
      if (text[end] === '(') depth += 1;
      if (text[end] === ')') depth -= 1;
      end += 1;
    }
    found.push({ name: match[1] ?? '', argument: text.slice(start, end - 1) });
  }
  return found;
}

function depthAt(text: string, at: number): number {
  let depth = 0;
  for (let i = 0; i < at; i += 1) {
    if (text[i] === '(') depth += 1;
    if (text[i] === ')') depth -= 1;
  }
  return depth;
}

/** At a character that stands in no brackets, parentheses or quotes. */
function splitAt(text: string, separator: ','): readonly string[] {
  return split(text, (c) => c === separator).filter((part) => part.trim() !== '');
}

function splitAtCombinators(selector: string): readonly string[] {
  const spaced = selector.replace(/\s*([>+~])\s*/g, (whole, combinator: string, at: number) =>
    insideBrackets(selector, at) ? whole : ` ${combinator} `,
  );
  return split(spaced, (c) => /\s/.test(c)).filter((part) => !['', '>', '+', '~'].includes(part));
}

function insideBrackets(text: string, at: number): boolean {
  const before = text.slice(0, at);
  return before.lastIndexOf('[') > before.lastIndexOf(']') || depthAt(text, at) > 0;
}

function split(text: string, isSeparator: (c: string) => boolean): readonly string[] {
  const parts: string[] = [];
  let part = '';
  let depth = 0;
  let quote = '';
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i] ?? '';
    if (c === '\\') {
      part += c + (text[i + 1] ?? '');
      i += 1;
    } else if (quote !== '') {
      if (c === quote) quote = '';
      part += c;
    } else if (c === '"' || c === "'") {
      quote = c;
      part += c;
    } else {
      if (c === '(' || c === '[') depth += 1;
      if (c === ')' || c === ']') depth -= 1;
      if (depth === 0 && isSeparator(c)) {
        parts.push(part);
        part = '';
      } else part += c;
    }
  }
  parts.push(part);
  return parts;
}
