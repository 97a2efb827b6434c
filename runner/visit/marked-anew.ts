// Samples of an earlier run with the exemptions and owners that the configuration gives their places now.
import type { Sample } from '../../src/samples/sample.ts';
import type { MarkedPlace } from '../page/wire/wire.ts';

/** @param marked places of the page that have any */
export function markedAnew(samples: readonly Sample[], marked: readonly MarkedPlace[]): readonly Sample[] {
  const marks = new Map(marked.map(({ selector, exemptions, owner }) => [selector, { exemptions, owner }]));
  return samples.map((sample) => {
    const { exemptions, owner } = marks.get(elementOf(sample.selector)) ?? {};
    return {
      ...unmarked(sample),
      ...(exemptions === undefined ? {} : { exemptions }),
      ...(owner === undefined ? {} : { owner }),
    };
  });
}

function unmarked({ exemptions: _, owner: __, ...facts }: Sample): Sample {
  return facts;
}

/** Generated content is marked as its element is. */
function elementOf(selector: string): string {
  return selector.replace(/::[a-z-]+$/u, '');
}
