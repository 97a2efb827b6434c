// Pictures that differ from the accepted ones: accepted, now, and what remains between them; grouped by what explains it.
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Change, ChangeGroup } from '../../api/changes.ts';
import type { Run, Session } from '../../api/runs.ts';
import { Empty, Failed, Waiting } from '../parts/bits.tsx';
import { Rail } from '../parts/choice.tsx';
import { Picture } from '../parts/picture.tsx';
import { useStrip } from '../parts/use-strip.ts';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, tinyPercentText } from '../words.ts';
import { Accepting } from './accepting.tsx';
import { Acceptances } from './acceptances.tsx';
import { ChangeViewer, WAYS_TO_LOOK } from './change-viewer.tsx';
import type { ScreenProps } from './screen-props.ts';
import { useChanges } from './use-changes.ts';

/** Width of an item of the strip with its gap, CSS px; the style sheet gives it this width. */
const ITEM_PX = 128;

export function ChangesScreen({ session, run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('changeGroups', { params: { run: run.id }, query: {} });
  const groups = asking.value?.groups ?? [];
  const wanted = query['group'];
  const group = wanted === undefined ? groups[0] : groups.find(({ id }) => id === wanted);
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
      ) : group !== undefined ? (
        <GroupPart key={group.id} session={session} run={run} query={query} groups={groups} group={group} />
      ) : groups.length === 0 ? (
        <Empty title={asking.value.accepted > 0 ? 'Every picture is as it was accepted.' : 'This run has no pictures.'} />
      ) : (
        <Empty title="Nothing differs any more in this way, or it did in another run.">
          <p>
            No group <code class="breaks">{wanted}</code>. <a href={href('changes', { run: run.id })}>All that differs</a>
          </p>
        </Empty>
      )}
      {/* Stays in its place whatever is accepted, so that its note, what it says and its buttons do. */}
      {session.token !== null && asking.value !== undefined && (
        <Accepting token={session.token} run={run.id} group={group ?? null} query={query} total={asking.value.total} />
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
}

function GroupPart({ session, run, query, groups, group }: GroupProps): JSX.Element {
  const { items: changes, complete, error } = useChanges(run.id, group.id);
  const wanted = query['view'];
  const change = changes.find(({ view }) => view === wanted) ?? changes[0];
  const way = WAYS_TO_LOOK.find(({ value }) => value === query['look'])?.value ?? 'beside';
  return (
    <div class="changes">
      <nav class="cause-list" aria-label="What explains the changes">
        <ol>
          {groups.map((other) => (
            <li key={other.id}>
              <a
                href={href('changes', { run: run.id, look: query['look'], group: other.id })}
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
        {error !== null && <Failed error={error} what="the pictures" />}
        <ChangeStrip session={session} run={run} query={query} group={group} changes={changes} chosen={change} />
        {complete && wanted !== undefined && change !== undefined && change.view !== wanted && (
          <p class="page-note" role="status">
            {wanted} no longer differs in this way; shown is {change.view}.
          </p>
        )}
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
          </>
        )}
      </div>
    </div>
  );
}

interface StripProps extends Omit<GroupProps, 'groups'> {
  readonly changes: readonly Change[];
  readonly chosen: Change | undefined;
}

/** The pictures of a group in a row, of which those in sight are in the document. */
function ChangeStrip({ session, run, query, group, changes, chosen }: StripProps): JSX.Element {
  const scroller = useRef<HTMLDivElement>(null);
  const { from, to, sizePx } = useStrip(scroller, changes.length, ITEM_PX);
  const at = changes.findIndex(({ view }) => view === chosen?.view);
  useEffect(() => {
    const row = scroller.current;
    if (row === null || at < 0) return;
    const [left, right] = [at * ITEM_PX, (at + 1) * ITEM_PX];
    if (left < row.scrollLeft || right > row.scrollLeft + row.clientWidth) row.scrollLeft = left - row.clientWidth / 2;
  }, [at]);
  return (
    <div class="change-strip" ref={scroller}>
      <ul aria-label="Pictures of this group" style={{ width: `${sizePx}px` }}>
        {changes.slice(from, to).map((item, index) => (
          <li key={item.view} style={{ transform: `translateX(${(from + index) * ITEM_PX}px)` }}>
            <a
              href={href('changes', { ...query, run: run.id, group: group.id, view: item.view })}
              aria-current={item.view === chosen?.view ? 'true' : undefined}
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
    </div>
  );
}
