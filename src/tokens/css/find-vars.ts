// `var()` in the value of a custom property (CSS Custom Properties 1, section 3) → where each stands, its name and fallback.

export interface VarUse {
  readonly name: string;
  /** null when there is none; may be empty text. */
  readonly fallback: string | null;
  /** Offsets in the value, `end` exclusive. */
  readonly start: number;
  readonly end: number;
}

/** Fallbacks inside fallbacks; real sheets reach 3. */
export const MOST_NESTED = 30;

/** Outermost uses in order; those inside a fallback are found by reading the fallback. */
export function findVars(value: string): readonly VarUse[] {
  const uses: VarUse[] = [];
  let i = 0;
  while (i < value.length) {
    if (isVarAt(value, i)) {
      const end = closeOf(value, i + 4);
      const use = readUse(value.slice(i + 4, end), i, Math.min(value.length, end + 1));
      if (use !== null) uses.push(use);
      i = end + 1;
    } else {
      i = skip(value, i);
    }
  }
  return uses;
}

/** The value is one `var()` and nothing else. */
export function wholeVar(value: string, uses: readonly VarUse[]): VarUse | null {
  const [only, ...others] = uses;
  if (only === undefined || others.length > 0) return null;
  return value.slice(0, only.start).trim() === '' && value.slice(only.end).trim() === '' ? only : null;
}

/** Every name mentioned, fallbacks included: they count when loops are looked for (section 2.3). */
export function namesIn(value: string): readonly string[] {
  const names: string[] = [];
  let texts: readonly string[] = [value];
  for (let depth = 0; depth <= MOST_NESTED && texts.length > 0; depth += 1) {
    const uses = texts.flatMap(findVars);
    for (const { name } of uses) names.push(name);
    texts = uses.flatMap(({ fallback }) => fallback ?? []);
  }
  return names;
}

function isVarAt(value: string, i: number): boolean {
  return value.slice(i, i + 4).toLowerCase() === 'var(' && !/[\w-]/.test(value[i - 1] ?? ' ');
}

function readUse(inside: string, start: number, end: number): VarUse | null {
  const comma = topLevelComma(inside);
  const name = unescapeName((comma === -1 ? inside : inside.slice(0, comma)).replace(/\/\*[^]*?\*\//g, '').trim());
  if (!name.startsWith('--')) return null;
  return { name, fallback: comma === -1 ? null : inside.slice(comma + 1).trim(), start, end };
}

function topLevelComma(text: string): number {
  for (let i = 0; i < text.length;) {
    if (text[i] === ',') return i;
    i = '([{'.includes(text[i] ?? ' ') ? closeOf(text, i + 1) + 1 : skip(text, i);
  }
  return -1;
}

/** Offset of the bracket that closes what was opened before `from`; the end of the text when none does, as CSS reads it. */
function closeOf(text: string, from: number): number {
  let depth = 1;
  for (let i = from; i < text.length;) {
    const c = text[i] ?? '';
    if ('([{'.includes(c)) depth += 1;
    else if (')]}'.includes(c)) depth -= 1;
    if (depth === 0) return i;
    i = skip(text, i);
  }
  return text.length;
}

/** Offset after the character, string, comment or escape that begins here. */
function skip(text: string, i: number): number {
  const c = text[i];
  if (c === '\\') return i + 2;
  if (c === '/' && text[i + 1] === '*') {
    const end = text.indexOf('*/', i + 2);
    return end === -1 ? text.length : end + 2;
  }
  if (c !== '"' && c !== "'") return i + 1;
  for (let at = i + 1; at < text.length; at += 1) {
    if (text[at] === '\\') at += 1;
    else if (text[at] === c) return at + 1;
  }
  return text.length;
}

/** CSS escapes (CSS Syntax 3, section 4.3.7) → the name as the DOM knows it. */
export function unescapeName(text: string): string {
  return text.replace(/\\([0-9a-fA-F]{1,6})\s?|\\([^])/g, (_, hex: string | undefined, plain: string | undefined) => {
    if (hex === undefined) return plain ?? '';
    const code = Number.parseInt(hex, 16);
    return code === 0 || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff) ? '\uFFFD' : String.fromCodePoint(code);
  });
}
