// The frame around every screen: name, ways, run, look; and which screen is shown.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { siteForm } from './site-files.ts';
import { Button, Choice } from './parts/choice.tsx';
import { ChecksContext } from './parts/glyph.tsx';
import { Empty, Waiting } from './parts/bits.tsx';
import { ScopeNote } from './parts/scope-note.tsx';
import { keepLook, readLook } from './look.ts';
import type { Look } from './look.ts';
import { keysOn } from './parts/keys.ts';
import { href, useAddress } from './route.ts';
import type { Query, Screen } from './route.ts';
import { useAnswer } from './use-answer.ts';
import { useLive } from './use-live.ts';
import { momentText, sentence } from './words.ts';
import { OwnersScreen } from './owners/owners-screen.tsx';
import { FindingsScreen } from './list/findings-screen.tsx';
import { SearchDialog, useSearchKey } from './parts/search.tsx';
import { QueueScreen } from './queue/queue-screen.tsx';
import { TokenScreen } from './token/token-screen.tsx';
import { BenchScreen } from './bench/bench-screen.tsx';
import { ApiScreen } from './screens/api.tsx';
import { CausesScreen } from './screens/causes.tsx';
import { ChangesScreen } from './screens/changes.tsx';
import { HistoryScreen } from './screens/history.tsx';
import { LaunchScreen } from './screens/launch.tsx';
import { PageScreen } from './screens/page.tsx';
import { RampsScreen } from './screens/ramps.tsx';
import type { ScreenProps } from './screens/screen-props.ts';
import { TonightScreen, askTonight } from './screens/tonight.tsx';

const SCREEN_OF = {
  tonight: TonightScreen,
  queue: QueueScreen,
  findings: FindingsScreen,
  page: PageScreen,
  causes: CausesScreen,
  ramps: RampsScreen,
  bench: BenchScreen,
  token: TokenScreen,
  changes: ChangesScreen,
  launch: LaunchScreen,
  owners: OwnersScreen,
  history: HistoryScreen,
  api: ApiScreen,
} satisfies Record<Screen, (props: ScreenProps) => JSX.Element>;

const WAYS = ['tonight', 'queue', 'findings', 'causes', 'ramps', 'bench', 'changes', 'launch', 'owners', 'history'] as const;
/** A report opened from disk has the answers of one run: what is asked freely needs a server. */
const SERVED = new Set<Screen>(['queue', 'findings', 'bench']);

export function App(): JSX.Element {
  const { screen, query } = useAddress();
  const session = useAnswer('session', { params: {}, query: {} });
  const newest = session.value?.newest ?? null;
  // The run that was newest when the page was opened stays in sight; that there is another is said, never done.
  const [opened, setOpened] = useState<string | null>(null);
  if (opened === null && newest !== null) setOpened(newest);
  const runId = query['run'] ?? opened ?? newest;
  const run = useAnswer('run', runId === null ? null : { params: { run: runId }, query: {} });
  useEffect(() => {
    if (runId !== null && screen === 'tonight') askTonight(runId);
  }, [runId, screen]);
  const live = useLive();
  const [searching, setSearching] = useState(false);
  useSearchKey(() => {
    if (!siteForm() && keysOn()) setSearching(true);
  });
  const subject =
    screen === 'page'
      ? (query['page'] ?? 'Page')
      : screen === 'token'
        ? (query['token'] ?? 'Token')
        : screen === null
          ? 'No such screen'
          : sentence(screen);
  useEffect(() => {
    document.title = `${subject} · gloam`;
  }, [subject]);
  const CurrentScreen = screen === null ? NoScreen : SCREEN_OF[screen];

  return (
    <ChecksContext.Provider value={session.value?.checks ?? []}>
      <a class="skip" href="#main" onClick={focusMain}>
        Skip to content
      </a>
      <header class="bar">
        <a class="wordmark" href={href('tonight', { run: query['run'] })}>
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <path d="M4 13a8 8 0 0 1 16 0z" class="wordmark-sun" />
            <path d="M1 16.5h22M5 20.5h14" class="wordmark-sea" />
          </svg>
          gloam
        </a>
        <nav aria-label="Screens">
          <ul class="ways">
            {WAYS.filter((way) => !siteForm() || !SERVED.has(way)).map((way) => (
              <li key={way}>
                <a href={href(way, { run: query['run'] })} aria-current={way === screen ? 'page' : undefined}>
                  {sentence(way)}
                </a>
              </li>
            ))}
          </ul>
        </nav>
        <div class="bar-end">
          {runId !== null && !siteForm() && (
            <Button
              kind="quiet"
              onClick={() => {
                setSearching(true);
              }}
            >
              Search <kbd>/</kbd>
            </Button>
          )}
          {live.progress !== null && <Progress {...live.progress} />}
          {session.value !== undefined && !siteForm() && <RunChoice screen={screen ?? 'tonight'} query={query} chosen={runId} />}
          <LookChoice />
        </div>
      </header>
      <main id="main" tabIndex={-1} class={`screen screen-${screen}`}>
        {session.value !== undefined && session.value.newest === null ? (
          <Empty title="Nothing has been rendered yet.">
            <p>
              Run <code>gloam run</code>; what it finds appears here while it works.
            </p>
          </Empty>
        ) : session.value === undefined || run.value === undefined ? (
          <Waiting asking={session.state === 'ready' ? run : session} what="the store" />
        ) : (
          <>
            {newest !== null && newest !== run.value.id && !siteForm() && (
              <p class="scope" role="note">
                A newer run has finished.{' '}
                <a
                  href={href(screen ?? 'tonight', withoutRun(query))}
                  onClick={() => {
                    setOpened(newest);
                  }}
                >
                  Show it
                </a>
              </p>
            )}
            <ScopeNote run={run.value} />
            <CurrentScreen session={session.value} run={run.value} query={query} />
          </>
        )}
      </main>
      {searching && runId !== null && (
        <SearchDialog
          run={runId}
          onClose={() => {
            setSearching(false);
          }}
        />
      )}
      <p class="unseen" role="status">
        {live.said}
      </p>
    </ChecksContext.Provider>
  );
}

function NoScreen(): JSX.Element {
  return (
    <>
      <h1>No such screen</h1>
      <Empty title="This address names no screen of the report.">
        <p>
          It may be of another version. <a href={href('tonight')}>To what changed tonight</a>
        </p>
      </Empty>
    </>
  );
}

const OF_A_RUN = new Set(['run', 'finding', 'cause', 'group', 'view']);

/** What is chosen belongs to its run and goes with it. */
function withoutRun(query: Query): Query {
  return Object.fromEntries(Object.entries(query).filter(([name]) => !OF_A_RUN.has(name)));
}

function focusMain(event: Event): void {
  event.preventDefault();
  document.getElementById('main')?.focus();
}

function RunChoice({
  screen,
  query,
  chosen,
}: {
  readonly screen: Screen;
  readonly query: Query;
  readonly chosen: string | null;
}): JSX.Element {
  const [shown, setShown] = useState<readonly string[]>([]);
  const after = shown.at(-1);
  const runs = useAnswer('runs', { params: {}, query: after === undefined ? {} : { after } });
  const list = runs.value?.runs ?? [];
  const options = list.map((run) => ({ value: run.id, label: `${momentText(run.startedAt)}${run.whole ? '' : ', in part'}` }));
  if (chosen !== null && !list.some(({ id }) => id === chosen)) options.unshift({ value: chosen, label: chosen });
  const following = runs.value?.next ?? null;
  return (
    <>
      <Choice
        label="Run"
        quiet
        value={chosen ?? ''}
        options={options}
        onChange={(run) => {
          location.hash = href(screen, { ...query, run });
        }}
      />
      {following !== null && (
        <Button
          kind="quiet"
          onClick={() => {
            setShown([...shown, following]);
          }}
        >
          older
        </Button>
      )}
    </>
  );
}

const LOOK_WORDS = { system: 'System look', light: 'Light', dark: 'Dark', contrast: 'High contrast' } as const satisfies Record<
  Look,
  string
>;

function LookChoice(): JSX.Element {
  const [look, setLook] = useState(readLook);
  return (
    <Choice
      label="Look"
      quiet
      value={look}
      options={Object.entries(LOOK_WORDS).map(([value, label]) => ({ value, label }))}
      onChange={(value) => {
        const chosen = value === 'light' || value === 'dark' || value === 'contrast' ? value : 'system';
        keepLook(chosen);
        setLook(chosen);
      }}
    />
  );
}

function Progress(progress: { readonly captured: number; readonly failed: number; readonly planned: number | null }): JSX.Element {
  const done = progress.captured + progress.failed;
  const text = progress.planned === null ? `${String(done)} views` : `${String(done)} of ${String(progress.planned)} views`;
  return (
    <span class="progress">
      {progress.planned !== null && <progress max={progress.planned} value={done} aria-label="Run in progress" />}
      running: {text}
    </span>
  );
}
