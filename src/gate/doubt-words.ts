// A doubt about a view in words, without the view's name. Pure.
import type { Doubt } from './doubts.ts';
import { counted, listed } from './words.ts';

export function doubtWords(doubt: Doubt): string {
  switch (doubt.kind) {
    case 'alike':
      return `looks like ${listed(doubt.pages.filter((page) => page !== doubt.view.page))}`;
    case 'thin':
      return `${counted(doubt.samples, 'place')}; ${doubt.theme ?? 'the run before'} had ${String(doubt.of)}`;
    case 'loading':
      return `still loading: ${doubt.sign}`;
    case 'asking':
      return 'shows a form that asks for a password';
    case 'idle':
      return 'looks as at rest';
  }
}
