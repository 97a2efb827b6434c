// What the server does with a proposal: the least change, a forecast that is kept, a try on the live pages; with how far it is.
import type { JSX } from 'preact';
import type { Work } from '../../api/bench.ts';
import { Button } from '../parts/choice.tsx';
import { countText } from '../words.ts';
import type { Working } from './use-work.ts';

export function WorkPart({
  working: { work, trouble, end },
  works,
  hasChanges,
  pins,
  onBegin,
}: {
  readonly working: Working;
  readonly works: boolean;
  readonly hasChanges: boolean;
  readonly pins: readonly string[];
  readonly onBegin: (kind: Work['kind']) => void;
}): JSX.Element {
  const busy = work?.state === 'running';
  return (
    <section class="bench-part" aria-label="On the server">
      <h2>On the server</h2>
      {!works && (
        <p class="quiet">
          Nothing can be begun here: the report was started read-only, or knows no configuration. The same from a terminal:{' '}
          <code>gloam retune</code>, <code>gloam forecast</code> and <code>gloam forecast --try</code>.
        </p>
      )}
      <div class="bench-tools">
        <Button
          kind="quiet"
          disabled={!works || busy}
          onClick={() => {
            onBegin('solve');
          }}
        >
          Solve: least change
        </Button>
        <Button
          kind="quiet"
          disabled={!works || busy || !hasChanges}
          onClick={() => {
            onBegin('store');
          }}
        >
          Keep as a forecast
        </Button>
        <Button
          kind="quiet"
          disabled={!works || busy || !hasChanges}
          onClick={() => {
            onBegin('try');
          }}
        >
          Try on the live pages
        </Button>
        {busy && (
          <Button kind="quiet" onClick={end}>
            End it
          </Button>
        )}
      </div>
      <p class="quiet">
        Solving starts from the files as they are
        {pins.length === 0 ? '; pin what must stay.' : `; pinned: ${pins.join(', ')}.`} Its answer takes the place of the proposal.
      </p>
      {busy && work.of !== null && <progress class="bench-progress" max={work.of} value={work.done} aria-label="Views tried" />}
      <p role="status">{trouble === '' ? wordsOf(work) : trouble}</p>
    </section>
  );
}

const UNDER_WAY = {
  solve: 'Working out the least change …',
  store: 'Making the forecast …',
  try: 'Making the forecast, then trying it on the live pages …',
} as const satisfies Record<Work['kind'], string>;

function wordsOf(work: Work | null): string {
  if (work === null) return '';
  const { state, kind, done, of, said, solved, kept, tried } = work;
  switch (state) {
    case 'running':
      return of === null ? UNDER_WAY[kind] : `${UNDER_WAY[kind]} ${String(done)} of ${countText(of, 'view')}.`;
    case 'failed':
      return `It could not be done. ${said}`;
    case 'ended':
      return said;
    case 'done':
      return [
        solved === null
          ? ''
          : `Least change found: mends ${countText(solved.mends, 'finding')}, breaks ${countText(solved.breaks, 'place')}${solved.unmet === 0 ? '' : `; ${countText(solved.unmet, 'pair')} cannot be met`}.${solved.gaveUp === null ? '' : ` The solver gave up: ${solved.gaveUp}.`}`,
        kept === null
          ? ''
          : `Kept as forecast ${kept.forecast}: ${String(kept.fresh)} new, ${String(kept.known)} known, ${String(kept.gone)} gone.`,
        tried === null
          ? ''
          : `Tried on ${countText(tried.views, 'view')}: ${countText(tried.both, 'finding')} foretold and found, ${String(tried.onlyForetold)} only foretold, ${String(tried.onlyFound)} only found; ${(tried.verdicts * 100).toFixed(1)} % of verdicts on contrast equal.`,
        said,
      ]
        .filter((words) => words !== '')
        .join(' ');
  }
}
