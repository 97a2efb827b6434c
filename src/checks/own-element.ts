// The selector of a finding → the selector of the one element that exemptions are matched on.

/** Of a path through shadow trees and frames the innermost part remains; a pseudo-element counts as its element. */
export function ownElement(selector: string): string {
  const innermost = selector.split(' >>> ').at(-1) ?? selector;
  return innermost.replace(/::[a-z-]+(\([^)]*\))?$/i, '');
}
