// Errors of reading colours.
import { GloamError } from './gloam-error.ts';

export function colorUnreadable(text: string): GloamError {
  const shown = text.length > 80 ? `${text.slice(0, 80)}…` : text;
  return new GloamError({
    code: 'color-unreadable',
    message: `found "${shown}"; expected a CSS colour, e.g. #2a6f86, rgb(42 111 134 / 50%), oklch(0.5 0.08 220) or a colour name.`,
    hint: 'Write the colour in a CSS Color 4 notation; var() and calc() cannot be read outside a page.',
    data: { text },
  });
}
