// The few faults behind the many findings: ranked, each with its layer, its reach, the repair and the places as small crops.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { FindingPlace, RankedCause } from '../../api/findings.ts';
import type { Run, Session } from '../../api/runs.ts';
import { CAUSE_LAYER_NAMES } from '../words.ts';
import { Empty, Failed, Fresh, LevelMark } from '../parts/bits.tsx';
import { Chain, Layer, RepairNote, causeSubject, reachText } from '../parts/cause-parts.tsx';
import { Button, Choice } from '../parts/choice.tsx';
import { PlaceCrop } from '../parts/crop.tsx';
import { CheckName, Sign } from '../parts/glyph.tsx';
import { findingHref } from '../parts/finding-href.ts';
import { listHref } from '../list/list-asked.ts';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { askOnce, useAnswer, useList } from '../use-answer.ts';
import { LAYER_WORDS, countText, sentence } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';

export function CausesScreen({ session, run, query }: ScreenProps): JSX.Element {
  const list = useList('causes', { run: run.id }, {}, (answer) => ({ items: answer.causes, next: answer.next }));
  const { items: causes, complete, error } = list;
  const shown = causes.filter((cause) => passes(cause, query));
  const wanted = query['cause'];
  const chosen = wanted === undefined ? shown[0] : causes.find(({ id }) => id === wanted);
  if (complete && causes.length === 0) {
    return (
      <>
        <h1>Causes</h1>
        {error !== null ? (
          <Failed error={error} what="the causes" />
        ) : (
          <Empty title="No causes in this run.">
            <p>Either nothing is wrong, or the run was made without telling causes.</p>
          </Empty>
        )}
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
        <CauseList causes={shown} all={causes} chosen={chosen} run={run.id} />
        {chosen !== undefined && <CauseSheet key={chosen.id} session={session} run={run} cause={chosen} />}
        {complete && chosen === undefined && wanted !== undefined && (
          <Empty title="This run has no such cause.">
            <p>
              <code class="breaks">{wanted}</code> was told of another run, or is mended.{' '}
              <a href={href('causes', { run: run.id })}>All causes of this run</a>
            </p>
          </Empty>
        )}
      </div>
    </>
  );
}

function passes(cause: RankedCause, query: Query): boolean {
  const { layer, theme } = query;
  return (layer === undefined || cause.layer === layer) && (theme === undefined || cause.themes.includes(theme));
}

function CauseList({
  causes,
  all,
  chosen,
  run,
}: {
  readonly causes: readonly RankedCause[];
  readonly all: readonly RankedCause[];
  readonly chosen: RankedCause | undefined;
  readonly run: string;
}): JSX.Element {
  const most = Math.max(1, ...all.map(({ findings }) => findings));
  return (
    <nav class="cause-list" aria-label="Causes, ranked">
      {causes.length === 0 && <p class="quiet">None passes the filters.</p>}
      <ol>
        {causes.map((cause) => (
          <li key={cause.id}>
            <a
              href={href('causes', { ...withoutCause(), run, cause: cause.id })}
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
          <a href={listHref(run.id, { cause: cause.id })}>{reachText(cause)}</a> · {confidenceText(cause.confidence)}
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
                    <CheckName check={id} />{' '}
                    <a class="num" href={listHref(run.id, { cause: cause.id, check: id, status: 'all' })}>
                      {count.toLocaleString('en')}
                    </a>
                  </li>
                )
              );
            })}
          </ul>
        </section>
        <section aria-label="From the pixel to its origin">
          <h3>From the pixel to its origin</h3>
          {cause.chain.length === 0 ? (
            <p class="quiet">The chain could not be followed.</p>
          ) : (
            <Chain chain={cause.chain} run={run.id} />
          )}
        </section>
      </div>
      <Places session={session} run={run} cause={cause} />
    </article>
  );
}

function RepairPart({ cause, run }: { readonly cause: RankedCause; readonly run: string }): JSX.Element {
  if (cause.repair !== undefined) return <RepairNote layer={cause.layer} repair={cause.repair} />;
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
  const [parts, setParts] = useState(1);
  const first = useAnswer('places', { params: { run: run.id }, query: { cause: cause.id } });
  const [rest, setRest] = useState<{ readonly places: readonly FindingPlace[]; readonly next: string | null }>({
    places: [],
    next: null,
  });
  const places = [...(first.value?.places ?? []), ...rest.places];
  const next = parts === 1 ? (first.value?.next ?? null) : rest.next;
  const total = first.value?.total ?? cause.findings;
  const more = (after: string): void => {
    askOnce('places', { run: run.id }, { cause: cause.id, after }).then(
      (answer) => {
        setParts(parts + 1);
        setRest((old) => ({ places: [...old.places, ...answer.places], next: answer.next }));
      },
      () => undefined, // the button stays
    );
  };
  return (
    <section aria-labelledby="cause-places">
      <h3 id="cause-places">{countText(total, 'place')}</h3>
      <ul class="crops">
        {places.map((place) => {
          const { id, page, theme, check, message, level } = place.finding;
          return (
            <li key={id}>
              <a href={findingHref(run.id, place.finding)} title={message}>
                {place.shot === null ? (
                  <span class="crop crop-none">no picture</span>
                ) : (
                  <PlaceCrop place={place} cut={session.sharp} />
                )}
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
      {next !== null && (
        <Button
          onClick={() => {
            more(next);
          }}
        >
          More places
        </Button>
      )}
    </section>
  );
}
