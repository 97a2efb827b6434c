// The one list of findings: over all pages, grouped, narrowed, and as long as it happens to be.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { List } from '../../api/list.ts';
import type { Run } from '../../api/runs.ts';
import { Empty, Waiting } from '../parts/bits.tsx';
import { Button, Choice } from '../parts/choice.tsx';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import type { Asking } from '../use-answer.ts';
import { countText, numberText } from '../words.ts';
import type { ScreenProps } from '../screens/screen-props.ts';
import { FILTERS, GROUP_WORDS, readAsked } from './list-asked.ts';
import { ListBody } from './list-body.tsx';

const STATUS_WORDS = { open: 'open', new: 'new', known: 'known', exempt: 'exempt', all: 'all' } as const;

export function FindingsScreen({ session, run, query }: ScreenProps): JSX.Element {
  const asked = readAsked(query);
  const { asking, query: answered } = useLast(useAnswer('list', { params: { run: run.id }, query: asked }), query);
  const list = asking.value;
  return (
    <>
      <div class="head">
        <h1>Findings</h1>
        {list !== undefined && (
          <p class="head-note" role="status">
            {headWords(list, answered)}
          </p>
        )}
      </div>
      <Tools run={run} query={query} list={list} />
      <Chips query={query} />
      {list === undefined ? (
        <Waiting asking={asking} what="the findings" />
      ) : list.total === 0 ? (
        <Empty title={isNarrowed(query) ? 'None passes the filters.' : 'Nothing was found where it was looked.'}>
          {isNarrowed(query) && <a href={href('findings', { run: run.id })}>All open findings of this run</a>}
        </Empty>
      ) : (
        <ListBody session={session} run={run} asked={asked} list={list} />
      )}
    </>
  );
}

interface Asked<T> {
  readonly asking: Asking<T>;
  readonly query: Query;
}

/** While another question is under way the last answer stays in sight, in the words of its own question. */
function useLast<T>(asking: Asking<T>, query: Query): Asked<T> {
  const last = useRef<Asked<T>>({ asking, query });
  if (asking.state !== 'waiting') last.current = { asking, query };
  return asking.state === 'waiting' && last.current.asking.state === 'ready' ? last.current : { asking, query };
}

function isNarrowed(query: Query): boolean {
  return FILTERS.some((name) => query[name] !== undefined);
}

function headWords({ total, fresh, errors, groups, groupsTotal }: List, query: Query): string {
  const group = query['group'] ?? 'cause';
  const status = query['status'] ?? 'open';
  // What has no cause, owner or token stands in a group of its own that is none of them.
  const named = groupsTotal - (groups.some(({ key }) => key === '-') ? 1 : 0);
  const of = group === 'none' ? '' : ` in ${countText(named, group)}`;
  const kind = status === 'all' ? '' : `${status} `;
  return `${numberText(total)} ${kind}${total === 1 ? 'finding' : 'findings'}${of} · ${numberText(errors)} of level error · ${numberText(fresh)} new`;
}

function Tools({ run, query, list }: { readonly run: Run; readonly query: Query; readonly list: List | undefined }): JSX.Element {
  return (
    <div class="list-tools">
      <Choice
        label="Grouped"
        value={query['group'] ?? 'cause'}
        options={Object.entries(GROUP_WORDS).map(([value, label]) => ({ value, label }))}
        onChange={(group) => {
          amend({ run: run.id, group: group === 'cause' ? undefined : group });
        }}
      />
      <Choice
        label="Status"
        value={query['status'] ?? 'open'}
        options={statusOptions(list)}
        onChange={(status) => {
          amend({ run: run.id, status: status === 'open' ? undefined : status });
        }}
      />
      <Narrowing member="theme" label="Theme" query={query} run={run} facet={list?.facets.theme} />
      <Narrowing member="owner" label="Owner" query={query} run={run} facet={list?.facets.owner} />
      <Narrowing member="check" label="Check" query={query} run={run} facet={list?.facets.check} />
      <Narrowing member="level" label="Level" query={query} run={run} facet={list?.facets.level} />
      <Find query={query} run={run} />
    </div>
  );
}

function statusOptions(list: List | undefined): readonly { readonly value: string; readonly label: string }[] {
  const counts = new Map(list?.facets.status ?? []);
  const of = (...names: readonly string[]): number => names.reduce((sum, name) => sum + (counts.get(name) ?? 0), 0);
  const numbers = {
    open: of('new', 'known'),
    new: of('new'),
    known: of('known'),
    exempt: of('exempt'),
    all: of('new', 'known', 'exempt'),
  };
  return (['open', 'new', 'known', 'exempt', 'all'] as const).map((value) => ({
    value,
    label: list === undefined ? STATUS_WORDS[value] : `${STATUS_WORDS[value]} (${numberText(numbers[value])})`,
  }));
}

function Narrowing({
  member,
  label,
  query,
  run,
  facet = [],
}: {
  readonly member: 'theme' | 'owner' | 'check' | 'level';
  readonly label: string;
  readonly query: Query;
  readonly run: Run;
  readonly facet: List['facets']['theme'] | undefined;
}): JSX.Element | null {
  const chosen = query[member];
  const options = facet.map(([value, count]) => ({ value, label: `${value === '-' ? 'nobody' : value} (${numberText(count)})` }));
  if (chosen !== undefined && !facet.some(([value]) => value === chosen)) options.push({ value: chosen, label: `${chosen} (0)` });
  if (options.length < 2 && chosen === undefined) return null;
  return (
    <Choice
      label={label}
      value={chosen ?? ''}
      options={[{ value: '', label: 'all' }, ...options]}
      onChange={(value) => {
        amend({ run: run.id, [member]: value });
      }}
    />
  );
}

/** Typing does not ask anew with every letter. */
const PAUSE_MS = 180;

function Find({ query, run }: { readonly query: Query; readonly run: Run }): JSX.Element {
  const wanted = query['find'] ?? '';
  const [typed, setTyped] = useState(wanted);
  const timer = useRef(0);
  useEffect(() => {
    setTyped(wanted);
  }, [wanted]);
  return (
    <span class="choice list-find">
      <label for="list-find">Find</label>
      <input
        id="list-find"
        type="search"
        value={typed}
        maxLength={400}
        placeholder="selector, text or colour"
        onInput={(event) => {
          const { value } = event.currentTarget;
          setTyped(value);
          clearTimeout(timer.current);
          timer.current = setTimeout(() => {
            amend({ run: run.id, find: value });
          }, PAUSE_MS);
        }}
      />
    </span>
  );
}

/** What has no place among the tools, each to be taken off. */
function Chips({ query }: { readonly query: Query }): JSX.Element | null {
  const shown = (['page', 'state', 'viewport', 'cause', 'token'] as const).filter((name) => query[name] !== undefined);
  if (shown.length === 0) return null;
  return (
    <ul class="list-chips" aria-label="Narrowed to">
      {shown.map((name) => (
        <li key={name}>
          <span class="quiet">{name}</span> <b class="breaks">{query[name] === '-' ? 'none' : query[name]}</b>
          <Button
            kind="quiet"
            label={`Any ${name}`}
            onClick={() => {
              amend({ [name]: undefined });
            }}
          >
            ×
          </Button>
        </li>
      ))}
    </ul>
  );
}
