// A difference → findings of the check `drift`: one for each explanation, at the place where it shows most.
import type { Change, Difference, Explanation } from '../samples/difference.ts';
import type { FindingDraft, Level, Measures } from '../samples/finding.ts';

/** @returns nothing for a difference without explanations, i.e. for an unchanged view */
export function driftFindings({ explanations, changedPixels, totalPixels }: Difference): readonly FindingDraft[] {
  const taken = new Set<string>();
  return explanations.map((explanation) => {
    const { change, selector, rect, pixels, places } = explanation;
    // Two changes may show most at one place; the smaller one is then named by what it is, too.
    const key = taken.has(explanation.key) ? `${explanation.key} ${explanation.group}` : explanation.key;
    taken.add(explanation.key);
    return {
      check: 'drift',
      level: levelOf(change),
      key,
      selector,
      rect,
      message: messageOf(explanation),
      measured: { ...coloursOf(change, 'to'), pixels, places, share: pixels / totalPixels, ofChange: pixels / changedPixels },
      expected: { ...coloursOf(change, 'from'), pixels: 0 },
    };
  });
}

/** Content that changed is no fault of a theme: worth a look, not a warning. */
function levelOf(change: Change): Level {
  return change.kind === 'text' || change.kind === 'picture' ? 'note' : 'warning';
}

function coloursOf(change: Change, side: 'from' | 'to'): Measures {
  switch (change.kind) {
    case 'recoloured':
      return { color: change[side], ...(change.token === null ? {} : { token: change.token }) };
    case 'rewired':
      return { uses: change[side] };
    case 'text':
      return { text: change[side] };
    case 'moved':
    case 'added':
    case 'removed':
    case 'picture':
    case 'unexplained':
      return {};
  }
}

function messageOf({ change, places, pixels, selector }: Explanation): string {
  const where = places === 1 ? 'at one place' : `at ${places} places`;
  switch (change.kind) {
    case 'recoloured': {
      const what = change.token ?? `The ${change.property} of no known token`;
      return `${what} changed from ${change.from} to ${change.to}; it shows ${where}.`;
    }
    case 'rewired':
      return `${change.property} was ${change.from} and is ${change.to} now ${where}.`;
    case 'text':
      return `The text was "${change.from}" and is "${change.to}" now.`;
    case 'moved':
      return `${moveWords(change)} ${where}.`;
    case 'added':
      return `Something is there that was not: ${places === 1 ? 'one place' : `${places} places`}, first of all ${selector}.`;
    case 'removed':
      return `Something is gone: ${places === 1 ? 'one place' : `${places} places`}, first of all ${selector}.`;
    case 'picture':
      return `Pictures show something else ${where}.`;
    case 'unexplained':
      return `${pixels} pixels differ and no change of colour, text, place or picture explains them.`;
  }
}

function moveWords({ by: [x, y], grew: [width, height] }: Extract<Change, { readonly kind: 'moved' }>): string {
  const parts = [
    ...(x === 0 ? [] : [`${Math.abs(x)} px to the ${x > 0 ? 'right' : 'left'}`]),
    ...(y === 0 ? [] : [`${Math.abs(y)} px ${y > 0 ? 'down' : 'up'}`]),
  ];
  const sizes = [
    ...(width === 0 ? [] : [`${Math.abs(width)} px ${width > 0 ? 'wider' : 'narrower'}`]),
    ...(height === 0 ? [] : [`${Math.abs(height)} px ${height > 0 ? 'taller' : 'less tall'}`]),
  ];
  const moved = parts.length === 0 ? [] : [`Moved ${parts.join(' and ')}`];
  const grown = sizes.length === 0 ? [] : [`${parts.length === 0 ? 'Now' : 'now'} ${sizes.join(' and ')}`];
  return [...moved, ...grown].join(', ');
}
