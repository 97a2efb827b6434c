// How a cause looks: one crop for each distinct look, with the same place in the reference theme beside it.
import type { JSX } from 'preact';
import type { Looks } from '../../api/queue.ts';
import type { Run } from '../../api/runs.ts';
import { PlaceCrop } from '../parts/crop.tsx';
import { findingHref } from '../parts/finding-href.ts';
import { firstMeasure } from '../parts/first-measure.ts';
import { countText, numberText } from '../words.ts';

interface LooksProps {
  readonly run: Run;
  readonly looks: Looks;
  /** Grows by one at each step; starts over at the end. */
  readonly chosen: number;
  readonly sharp: boolean;
  readonly onChoose: (at: number) => void;
}

export function LooksPart({ run, looks: { looks, total }, chosen, sharp, onChoose }: LooksProps): JSX.Element | null {
  const at = chosen % Math.max(1, looks.length);
  const look = looks[at];
  if (look === undefined) return <p class="quiet">Its findings have no place on a page.</p>;
  const { here, reference, count } = look;
  return (
    <section class="queue-looks" aria-label="How it looks">
      <div class="queue-pair">
        <figure>
          <figcaption>
            {here.finding.theme} · <a href={findingHref(run.id, here.finding)}>{here.finding.page}</a>
          </figcaption>
          {here.shot === null ? <span class="crop crop-none">no picture</span> : <PlaceCrop place={here} cut={sharp} />}
        </figure>
        {reference !== null && (
          <figure>
            <figcaption>{run.reference}, the reference</figcaption>
            <PlaceCrop place={{ ...reference, finding: { rect: reference.rect } }} cut={sharp} />
          </figure>
        )}
      </div>
      <p>
        {here.finding.message} <span class="num quiet">{firstMeasure(here.finding)}</span>
      </p>
      {looks.length > 1 && (
        <ol class="queue-look-list" aria-label="Distinct looks">
          {looks.map((one, index) => (
            <li key={one.here.finding.id}>
              <button
                type="button"
                class="button button-plain"
                aria-pressed={index === at}
                onClick={() => {
                  onChoose(index);
                }}
              >
                {one.here.finding.theme} × {numberText(one.count)}
              </button>
            </li>
          ))}
        </ol>
      )}
      <p class="quiet">
        {countText(count, 'place')} of this look{total > 1 ? `; ${countText(total, 'distinct look')} in all` : ''}
        {total > looks.length ? `, the ${numberText(looks.length)} most frequent shown` : ''}.
      </p>
    </section>
  );
}
