// Selectors of a configuration that are no selectors: in a page they would match nothing, and nobody would be told.
import parse from 'css-tree/selector-parser';
import type { FileFault } from '../errors/command-errors.ts';
import type { Configuration, Exemption } from '../plan/configuration.ts';

/** Selectors Level 4 as css-tree reads it; unknown pseudo-classes pass, whether they match is told by the run. */
export function selectorFaults(
  configuration: Pick<Configuration, 'stay' | 'mask' | 'exempt' | 'owners' | 'pages' | 'states'>,
): readonly FileFault[] {
  const { stay, mask, exempt, owners, pages, states } = configuration;
  const listed = pages.kind === 'list' ? pages.pages : [];
  return [
    ...stay.flatMap(({ selector }, i) => faultOf(`stay[${i}].selector`, selector)),
    ...mask.flatMap((selector, i) => faultOf(`mask[${i}]`, selector)),
    ...owners.flatMap(({ selector }, i) => (selector === undefined ? [] : faultOf(`owners[${i}].selector`, selector))),
    ...listed.flatMap(({ waitFor }, i) => (waitFor === undefined ? [] : faultOf(`pages[${i}].waitFor`, waitFor))),
    ...states.flatMap((state) => ('selector' in state ? faultOf(`states.${state.name}.${state.kind}`, state.selector) : [])),
    ...exemptionSelectorFaults(exempt, 'exempt'),
  ];
}

/** @param at path of the list in its file, '' for the file itself */
export function exemptionSelectorFaults(exempt: readonly Exemption[], at: string): readonly FileFault[] {
  return exempt.flatMap((exemption, i) =>
    // Tokens have paths, not selectors.
    isOfTokensAlone(exemption) ? [] : faultOf(`${at}[${i}].selector`, exemption.selector),
  );
}

export function isOfTokensAlone({ checks }: Exemption): boolean {
  return checks?.every((check) => check === 'token-fault') ?? false;
}

function faultOf(at: string, selector: string): readonly FileFault[] {
  if (selector.includes('>>>')) {
    const inner = selector.split('>>>').at(-1)?.trim() ?? '';
    const expected = `a selector that one element is matched by, without the way to it: ${JSON.stringify(inner)}`;
    return [{ at, found: JSON.stringify(selector), expected }];
  }
  const why = whyNone(selector);
  if (why === null) return [];
  const found = `${JSON.stringify(selector)}, which is no selector: ${why}`;
  return [{ at, found, expected: 'a selector of elements (CSS Selectors Level 4)' }];
}

/** The parser lets combinators stand that join nothing. */
function whyNone(selector: string): string | null {
  try {
    const lists = [...(parse(selector, { context: 'selectorList' }).children ?? [])];
    if (lists.length === 0) return 'it is empty';
    for (const { children } of lists) {
      const joins = [...(children ?? [])].map(({ type }) => type === 'Combinator');
      if (joins.some((join, i) => join && (i === 0 || joins[i + 1] !== false))) return 'a combinator joins nothing';
    }
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}
