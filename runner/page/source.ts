// All that the document is made of, as text: markup, what is filled in, and the rules of every style sheet. Two views with the same
// text and the same picture have the same samples.
import { allRoots, ownSheets } from './freeze.ts';

/** A list of texts; not for reading, but to tell whether anything changed since the last night. */
export function source(): readonly string[] {
  const roots = allRoots();
  const sheets = roots.flatMap((root) => [
    ...root.styleSheets,
    ...[...root.adoptedStyleSheets].filter((sheet) => !ownSheets().has(sheet)),
  ]);
  // A blank line more moves no rule, but the lines at which rules are written.
  const lengths = performance
    .getEntriesByType('resource')
    .filter((entry): entry is PerformanceResourceTiming => entry instanceof PerformanceResourceTiming)
    .filter(({ initiatorType }) => initiatorType === 'link' || initiatorType === 'css')
    .map(({ name, decodedBodySize }) => `${name} ${decodedBodySize}`);
  return [...roots.map(markupOf), JSON.stringify(roots.flatMap(filledIn)), ...sheets.map(rulesOf), ...lengths.toSorted()];
}

function markupOf(root: Document | ShadowRoot): string {
  if (!('documentElement' in root)) return root.innerHTML;
  // Drawings and other documents have no body.
  if (root.querySelector('body') === null) return root.documentElement.outerHTML;
  const { documentElement, body } = root;
  return [attributesOf(documentElement), root.head.innerHTML, attributesOf(body), body.innerHTML].join('\n');
}

/** In order of their names: which of a theme's attributes came first depends on what was on before. */
function attributesOf(el: Element): string {
  const named = [...el.attributes].filter(({ name, value }) => name !== 'class' || value !== '');
  return named
    .map(({ name, value }) => `${name}=${JSON.stringify(value)}`)
    .sort()
    .join(' ');
}

/** Controls show what no markup says. */
function filledIn(root: Document | ShadowRoot): readonly unknown[] {
  return [...root.querySelectorAll<HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement>('input,select,textarea')].map(
    (control) => {
      const { value, disabled } = control;
      return 'checked' in control ? [value, disabled, control.checked, control.indeterminate] : [value, disabled];
    },
  );
}

function rulesOf(sheet: CSSStyleSheet): string {
  const { href, media, disabled } = sheet;
  const about = `${href ?? ''} ${media.mediaText} ${String(disabled)}`;
  try {
    return [about, ...[...sheet.cssRules].map((rule) => rule.cssText)].join('\n');
  } catch {
    // From another origin: what it says shows in the computed styles only.
    return `${about} unreadable`;
  }
}
