// Pictures that differ from the accepted ones: accepted, now, and the difference; grouped by what explains it; accepting and taking back.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { AcceptBody, Acceptance, Change, ChangeGroup } from '../../api/changes.ts';
import type { Run, Session } from '../../api/runs.ts';
import { Empty, Waiting } from '../parts/bits.tsx';
import { Button, Rail } from '../parts/choice.tsx';
import { Picture } from '../parts/picture.tsx';
import { Refusal, tell } from '../client.ts';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { askAll, forgetAnswers, useAnswer } from '../use-answer.ts';
import { countText, momentText, tinyPercentText } from '../words.ts';
import { ChangeViewer, WAYS_TO_LOOK } from './change-viewer.tsx';
import type { ScreenProps } from './screen-props.ts';

export function ChangesScreen({ session, run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('changeGroups', { params: { run: run.id }, query: {} });
  const groups = asking.value?.groups ?? [];
  const group = groups.find(({ id }) => id === query['group']) ?? groups[0];
  return (
    <>
      <div class="head">
        <h1>Changes</h1>
        {asking.value !== undefined && asking.value.accepted > 0 && (
          <p class="head-note">
            {countText(asking.value.total, 'picture')} {asking.value.total === 1 ? 'differs' : 'differ'} from what was accepted
          </p>
        )}
      </div>
      {asking.value === undefined ? (
        <Waiting asking={asking} what="what changed" />
      ) : group === undefined ? (
        <Empty title={asking.value.accepted > 0 ? 'Every picture is as it was accepted.' : 'This run has no pictures.'} />
      ) : (
        <GroupPart
          key={group.id}
          session={session}
          run={run}
          query={query}
          groups={groups}
          group={group}
          total={asking.value.total}
        />
      )}
      <Acceptances session={session} />
    </>
  );
}

interface GroupProps {
  readonly session: Session;
  readonly run: Run;
  readonly query: Query;
  readonly groups: readonly ChangeGroup[];
  readonly group: ChangeGroup;
  /** Views in all groups, each once. */
  readonly total: number;
}

function GroupPart({ session, run, query, groups, group, total }: GroupProps): JSX.Element {
  const changes = useChanges(run.id, group.id);
  const change = changes.find(({ view }) => view === query['view']) ?? changes[0];
  const way = WAYS_TO_LOOK.find(({ value }) => value === query['look'])?.value ?? 'beside';
  return (
    <div class="changes">
      <nav class="cause-list" aria-label="What explains the changes">
        <ol>
          {groups.map((other) => (
            <li key={other.id}>
              <a
                href={href('changes', { run: query['run'], look: query['look'], group: other.id })}
                aria-current={other.id === group.id ? 'true' : undefined}
              >
                <span class="cause-name">
                  <b>{other.title}</b>
                  <span class="cause-name-note">{other.explanation === '' ? 'nothing explains it' : other.explanation}</span>
                </span>
                <span class="cause-count num">{other.views.toLocaleString('en')}</span>
              </a>
            </li>
          ))}
        </ol>
      </nav>
      <div class="change-main">
        <ul class="change-strip" aria-label="Pictures of this group">
          {changes.map((item) => (
            <li key={item.view}>
              <a
                href={href('changes', { ...query, group: group.id, view: item.view })}
                aria-current={item.view === change?.view ? 'true' : undefined}
                title={item.view}
              >
                <span class="change-thumb">
                  <Picture hash={item.now ?? item.accepted ?? ''} widthPx={112} alt="" scaled={session.sharp} />
                </span>
                <span class="change-name">
                  {item.page}
                  <span class="quiet">
                    {item.theme} · {item.state}
                    {item.share === null ? '' : ` · ${tinyPercentText(item.share)}`}
                  </span>
                </span>
              </a>
            </li>
          ))}
        </ul>
        {change !== undefined && (
          <>
            <div class="grid-head">
              <h2>
                {change.page}, {change.theme}
              </h2>
              <span class="quiet">
                {change.state} · {change.viewport}
                {change.share !== null &&
                  ` · ${tinyPercentText(change.share)} of the pixels in ${countText(change.regions.length, 'region')}`}
              </span>
              <Rail
                label="Way to look"
                value={way}
                options={WAYS_TO_LOOK}
                onChange={(look) => {
                  amend({ look: look === 'beside' ? undefined : look });
                }}
              />
            </div>
            <ChangeViewer key={change.view} change={change} way={way} scaled={session.sharp} />
            {session.token !== null && (
              <AcceptPart token={session.token} run={run.id} group={group} change={change} total={total} />
            )}
          </>
        )}
      </div>
    </div>
  );
}

function useChanges(run: string, group: string): readonly Change[] {
  const [changes, setChanges] = useState<readonly Change[]>([]);
  useEffect(() => {
    let current = true;
    let all: readonly Change[] = [];
    askAll('changes', { run }, { group }, (answer) => {
      all = [...all, ...answer.changes];
      if (current) setChanges(all);
      return current ? answer.next : null;
    }).catch(() => undefined); // the group's title stands; asking again is a reload
    return () => {
      current = false;
    };
  }, [run, group]);
  return changes;
}

function AcceptPart(props: {
  readonly token: string;
  readonly run: string;
  readonly group: ChangeGroup;
  readonly change: Change;
  readonly total: number;
}): JSX.Element {
  const { token, run, group, change, total } = props;
  const [note, setNote] = useState('');
  const [said, setSaid] = useState('');
  const accept = (what: AcceptBody['what']): void => {
    tell('accept', { run, what, note }, token).then(
      ({ views }) => {
        setSaid(`${countText(views, 'picture')} accepted.`);
        forgetAnswers();
      },
      (error: unknown) => {
        setSaid(error instanceof Refusal ? `${error.message} ${error.hint}` : 'That did not work.');
      },
    );
  };
  return (
    <form
      class="accept"
      aria-label="Accept"
      onSubmit={(event) => {
        event.preventDefault();
      }}
    >
      <label for="accept-note">Note</label>
      <input
        id="accept-note"
        type="text"
        value={note}
        maxLength={2_000}
        placeholder="why this is right now"
        onInput={(event) => {
          setNote(event.currentTarget.value);
        }}
      />
      <Button
        kind="main"
        onClick={() => {
          accept({ kind: 'views', views: [change.view] });
        }}
      >
        Accept this picture
      </Button>
      <Button
        onClick={() => {
          accept({ kind: 'group', group: group.id });
        }}
      >
        Accept the group ({group.views.toLocaleString('en')})
      </Button>
      <Button
        onClick={() => {
          accept({ kind: 'all' });
        }}
      >
        Accept all ({total.toLocaleString('en')})
      </Button>
      <p role="status">{said}</p>
    </form>
  );
}

function Acceptances({ session }: { readonly session: Session }): JSX.Element | null {
  const asking = useAnswer('acceptances', { params: {}, query: {} });
  const list = asking.value?.acceptances ?? [];
  if (list.length === 0) return null;
  return (
    <section aria-labelledby="acceptances-title">
      <h2 id="acceptances-title">Accepted before</h2>
      <table class="table">
        <thead>
          <tr>
            <th scope="col">When</th>
            <th scope="col">Who</th>
            <th scope="col">Note</th>
            <th scope="col" class="num">
              Pictures
            </th>
            <th scope="col">
              <span class="unseen">Take back</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {list.map((acceptance) => (
            <AcceptanceRow key={acceptance.id} acceptance={acceptance} token={session.token} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

function AcceptanceRow({ acceptance, token }: { readonly acceptance: Acceptance; readonly token: string | null }): JSX.Element {
  const [said, setSaid] = useState('');
  const undo = (held: string): void => {
    tell('undo', { acceptance: acceptance.id }, held).then(
      () => {
        forgetAnswers();
      },
      (error: unknown) => {
        setSaid(error instanceof Error ? error.message : String(error));
      },
    );
  };
  return (
    <tr>
      <th scope="row">{momentText(acceptance.at)}</th>
      <td>{acceptance.who}</td>
      <td>{acceptance.note}</td>
      <td class="num">{acceptance.views.toLocaleString('en')}</td>
      <td>
        {acceptance.undone ? (
          <span class="quiet">taken back</span>
        ) : (
          token !== null && (
            <Button
              kind="quiet"
              label={`Take back what was accepted at ${momentText(acceptance.at)}`}
              onClick={() => {
                undo(token);
              }}
            >
              take back
            </Button>
          )
        )}
        {said}
      </td>
    </tr>
  );
}
