// Text of a selector list → its complex selectors; and what of one is asked of an element, what of a part of it.

/** At the commas that stand in no brackets and no quotes. */
export function complexSelectors(list: string): readonly string[] {
  const parts: string[] = [];
  let [from, depth] = [0, 0];
  for (const { 0: token, index } of list.matchAll(/\\.|"(?:[^"\\]|\\.)*"|[([\])]|,/gsu)) {
    if (token === '(' || token === '[') depth += 1;
    else if (token === ')' || token === ']') depth -= 1;
    else if (token === ',' && depth === 0) {
      parts.push(list.slice(from, index).trim());
      from = index + 1;
    }
  }
  return [...parts, list.slice(from).trim()];
}

/** Names that browsers keep for the same part. */
const SAME: Readonly<Record<string, string>> = { '-webkit-input-placeholder': 'placeholder' };

/** @returns null where it selects an element itself */
export function partSelected(complex: string): { readonly on: string; readonly part: string } | null {
  const [, on = '', name = ''] = /^(.*?)(?<!\\)::([\w-]+)$/su.exec(complex) ?? [];
  return name === '' ? null : { on: /(?:^|[\s>+~])$/u.test(on) ? `${on}*` : on, part: SAME[name] ?? name };
}

/**
 * CSS Nesting 1: `&` stands for the elements that the rule around matches; in a scope, as `:scope`, for its roots.
 * @param parent selector of the rule around, else '' @returns what selects the same on its own
 */
export function nestedSelector(list: string, parent: string): string {
  if (parent === '') return list;
  const isPlain = complexSelectors(parent).length === 1 && partSelected(parent) === null;
  const lead = isPlain ? parent : `:is(${parent})`;
  return complexSelectors(list)
    .map((complex) => {
      const nested = complex.replace(/"(?:[^"\\]|\\.)*"|&|:scope\b/gu, (token: string, at: number) => {
        if (token.startsWith('"')) return token;
        return at === 0 ? lead : `:is(${parent})`;
      });
      return nested === complex ? `${lead} ${complex}` : nested;
    })
    .join(', ');
}
