// Which colours of the browser's own an element is drawn with (CSS Color Adjust 1 §2).
import { dom } from '../dom.ts';
import type { Shown } from './scene.ts';

export type Scheme = 'light' | 'dark';

interface Styled {
  readonly style: CSSStyleDeclaration;
  readonly shown: Pick<Shown, 'document' | 'window'>;
}

export function colorSchemeOf({ style, shown }: Styled): Scheme {
  const own = style.colorScheme;
  // Where the element says nothing, the page's meta element counts (HTML §4.2.5.1).
  const meta = dom(dom(shown.document).querySelector('meta[name="color-scheme" i]'))?.getAttribute('content');
  const words = (own === 'normal' ? (meta ?? '') : own).split(/\s+/u);
  const may = (scheme: Scheme): boolean => words.includes(scheme);
  if (may('dark') && may('light')) return shown.window.matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
  return may('dark') ? 'dark' : 'light';
}
