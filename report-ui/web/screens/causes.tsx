// The few faults behind the many findings: ranked, each with its layer, its reach, the repair and the places as small crops.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Place, RankedCause } from '../../api/findings.ts';
import type { Run, Session } from '../../api/runs.ts';
import { CAUSE_LAYER_NAMES } from '../words.ts';
import { Empty, Fresh, LevelMark } from '../parts/bits.tsx';
import { Chain, Layer, RepairNote, causeSubject, reachText } from '../parts/cause-parts.tsx';
import { Button, Choice } from '../parts/choice.tsx';
import { Crop } from '../parts/crop.tsx';
import { CheckName, Sign } from '../parts/glyph.tsx';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { askAll, askOnce } from '../use-answer.ts';
import { LAYER_WORDS, countText, sentence } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';

export function CausesScreen({ session, run, query }: ScreenProps): JSX.Element {
  const { causes, complete, error } = useCauses(run.id);
  const shown = causes.filter((cause) => passes(cause, query));
  const chosen = causes.find(({ id }) => id === query['cause']) ?? shown[0];
  if (complete && causes.length === 0) {
    return (
      <>
        <h1>Causes</h1>
        <Empty title={error ?? 'No causes in this run.'}>
          <p>Either nothing is wrong, or the run was made without telling causes.</p>
        </Empty>
      </>
    );
  }
  return (
    <>
      <div class="head">
        <h1>Causes</h1>
        <p class="head-note">
          {countText(causes.length, 'cause')} {complete ? '' : 'so far '}behind{' '}
          {countText(
            causes.reduce((sum, { findings }) => sum + findings, 0),
            'finding',
          )}
        </p>
        <span class="head-tools">
          <Choice
            label="Layer"
            value={query['layer'] ?? ''}
            options={[
              { value: '', label: 'all' },
              ...CAUSE_LAYER_NAMES.map((layer) => ({ value: layer, label: LAYER_WORDS[layer].noun })),
            ]}
            onChange={(layer) => {
              amend({ layer, cause: undefined });
            }}
          />
          <Choice
            label="Theme"
            value={query['theme'] ?? ''}
            options={[{ value: '', label: 'all' }, ...run.themes.map(({ name }) => ({ value: name, label: name }))]}
            onChange={(theme) => {
              amend({ theme, cause: undefined });
            }}
          />
        </span>
      </div>
      <div class="causes">
        <CauseList causes={shown} all={causes} chosen={chosen} />
        {chosen !== undefined && <CauseSheet key={chosen.id} session={session} run={run} cause={chosen} />}
      </div>
    </>
  );
}

function passes(cause: RankedCause, query: Query): boolean {
  const { layer, theme } = query;
  return (layer === undefined || cause.layer === layer) && (theme === undefined || cause.themes.includes(theme));
}

function useCauses(run: string): {
  readonly causes: readonly RankedCause[];
  readonly complete: boolean;
  readonly error: string | null;
} {
  const [found, setFound] = useState<{
    readonly causes: readonly RankedCause[];
    readonly complete: boolean;
    readonly error: string | null;
  }>({ causes: [], complete: false, error: null });
  useEffect(() => {
    let current = true;
    let causes: readonly RankedCause[] = [];
    askAll('causes', { run }, {}, (answer) => {
      causes = [...causes, ...answer.causes];
      if (current) setFound({ causes, complete: answer.next === null, error: null });
      return current ? answer.next : null;
    }).catch((error: unknown) => {
      if (current) setFound({ causes, complete: true, error: error instanceof Error ? error.message : String(error) });
    });
    return () => {
      current = false;
    };
  }, [run]);
  return found;
}

function CauseList({
  causes,
  all,
  chosen,
}: {
  readonly causes: readonly RankedCause[];
  readonly all: readonly RankedCause[];
  readonly chosen: RankedCause | undefined;
}): JSX.Element {
  const most = Math.max(1, ...all.map(({ findings }) => findings));
  return (
    <nav class="cause-list" aria-label="Causes, ranked">
      {causes.length === 0 && <p class="quiet">None passes the filters.</p>}
      <ol>
        {causes.map((cause) => (
          <li key={cause.id}>
            <a
              href={href('causes', { ...withoutCause(), cause: cause.id })}
              aria-current={cause.id === chosen?.id ? 'true' : undefined}
            >
              <span class="cause-rank num">{all.indexOf(cause) + 1}</span>
              <span class="cause-name">
                <b>{causeSubject(cause)}</b>
                <span class="cause-name-note">
                  {LAYER_WORDS[cause.layer].noun} · {cause.themes.join(', ')}
                </span>
              </span>
              <span class="cause-count">
                <span class="num">{cause.findings.toLocaleString('en')}</span>
                <Fresh count={cause.fresh} />
              </span>
              <span class="reach" aria-hidden="true">
                <span style={{ width: `${(100 * cause.findings) / most}%` }} />
              </span>
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** The address's other members stay. */
function withoutCause(): Record<string, string> {
  const query = Object.fromEntries(new URLSearchParams(location.hash.split('?', 2)[1] ?? ''));
  return Object.fromEntries(Object.entries(query).filter(([key]) => key !== 'cause'));
}

function CauseSheet({
  session,
  run,
  cause,
}: {
  readonly session: Session;
  readonly run: Run;
  readonly cause: RankedCause;
}): JSX.Element {
  return (
    <article class="cause-sheet" aria-labelledby="cause-title">
      <header>
        <p class="cause-layer">
          <Layer layer={cause.layer} />{' '}
          {isDrift(cause) ? 'Something changed since the pictures were accepted.' : LAYER_WORDS[cause.layer].about}
        </p>
        <h2 id="cause-title">{causeSubject(cause)}</h2>
        <p class="lead">{cause.why}</p>
        <p class="quiet">
          {reachText(cause)} · {confidenceText(cause.confidence)}
        </p>
      </header>
      <div class="cause-two">
        <section aria-label="Repair">
          <h3>Repair</h3>
          <RepairPart cause={cause} run={run.id} />
          <ul class="cause-checks">
            {session.checks.map(({ id }) => {
              const count = cause.checks[id];
              return (
                count !== undefined && (
                  <li key={id}>
                    <CheckName check={id} /> <span class="num">{count.toLocaleString('en')}</span>
                  </li>
                )
              );
            })}
          </ul>
        </section>
        <section aria-label="From the pixel to its origin">
          <h3>From the pixel to its origin</h3>
          {cause.chain.length === 0 ? <p class="quiet">The chain could not be followed.</p> : <Chain chain={cause.chain} />}
        </section>
      </div>
      <Places session={session} run={run} cause={cause} />
    </article>
  );
}

function RepairPart({ cause, run }: { readonly cause: RankedCause; readonly run: string }): JSX.Element {
  if (cause.repair !== undefined) return <RepairNote repair={cause.repair} />;
  if (!isDrift(cause)) return <p class="quiet">No repair could be computed.</p>;
  return (
    <p>
      <a href={href('changes', { run })}>Accept the pictures</a>, or take the change back.
    </p>
  );
}

/** Whether a change was meant is for people to say. */
function isDrift({ checks }: RankedCause): boolean {
  return checks['drift'] !== undefined;
}

function confidenceText(confidence: number): string {
  const word = confidence >= 0.85 ? 'clear' : confidence >= 0.6 ? 'likely' : 'uncertain';
  return `${word} (${confidence.toFixed(2)})`;
}

function Places({
  session,
  run,
  cause,
}: {
  readonly session: Session;
  readonly run: Run;
  readonly cause: RankedCause;
}): JSX.Element {
  const [found, setFound] = useState<{ readonly places: readonly Place[]; readonly next: string | null; readonly total: number }>({
    places: [],
    next: null,
    total: 0,
  });
  const more = (after?: string): void => {
    askOnce('places', { run: run.id }, after === undefined ? { cause: cause.id } : { cause: cause.id, after }).then(
      (answer) => {
        setFound((old) => ({
          places: [...(after === undefined ? [] : old.places), ...answer.places],
          next: answer.next,
          total: answer.total,
        }));
      },
      () => undefined, // the sheet stands without its places
    );
  };
  useEffect(() => {
    more();
  }, [cause.id]);
  return (
    <section aria-labelledby="cause-places">
      <h3 id="cause-places">{countText(found.total, 'place')}</h3>
      <ul class="crops">
        {found.places.map((place) => {
          const { id, page, theme, state, viewport, check, message, level } = place.finding;
          return (
            <li key={id}>
              <a href={href('page', { run: run.id, page, state, viewport, finding: id })} title={message}>
                {place.shot === null ? <span class="crop crop-none">no picture</span> : <Crop place={place} cut={session.sharp} />}
                <span class="crop-name">
                  <Sign check={check} /> {page} <span class="quiet">{theme}</span>
                  <span class="unseen">
                    {sentence(check)}, {level}: {message}
                  </span>
                </span>
              </a>
              {level !== 'error' && <LevelMark level={level} />}
            </li>
          );
        })}
      </ul>
      {found.next !== null && (
        <Button
          onClick={() => {
            more(found.next ?? undefined);
          }}
        >
          More places
        </Button>
      )}
    </section>
  );
}
