// One page of the app under test: every theme beside the others, what is wrong marked on the pictures and listed beside them.
import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import type { ScreenProps } from './screen-props.ts';
import type { Finding } from '../../api/findings.ts';
import type { PageAnswer, PageView } from '../../api/page.ts';
import { Empty, Failed, Waiting } from '../parts/bits.tsx';
import { Choice, Rail, Switch } from '../parts/choice.tsx';
import type { Option } from '../parts/choice.tsx';
import { VISIONS, VISION_OPTIONS, VisionFilters } from '../parts/vision.tsx';
import { amend, href } from '../route.ts';
import type { Query } from '../route.ts';
import { useAnswer, useList } from '../use-answer.ts';
import { sentence } from '../words.ts';
import { FindingDetail } from './finding-detail.tsx';
import { FindingList } from './finding-list.tsx';
import { Panes } from './panes.tsx';
import type { Zoom } from './panes.tsx';

const ZOOMS: readonly Option[] = [
  { value: 'fit', label: 'fit' },
  { value: '0.5', label: '50 %' },
  { value: '1', label: '100 %' },
  { value: '2', label: '200 %' },
];
/** Members of a finding that the list can be narrowed by. */
const FILTERS = ['theme', 'check', 'level', 'status', 'owner'] as const;

export function PageScreen(props: ScreenProps): JSX.Element {
  const name = props.query['page'] ?? '';
  const asking = useAnswer('page', name === '' ? null : { params: { run: props.run.id }, query: { page: name } });
  if (name === '') {
    return (
      <Empty title="No page was named.">
        <a href={href('tonight')}>All pages</a>
      </Empty>
    );
  }
  return asking.value === undefined ? <Waiting asking={asking} what={name} /> : <PageParts {...props} answer={asking.value} />;
}

function PageParts({ session, run, query, answer }: ScreenProps & { readonly answer: PageAnswer }): JSX.Element {
  const states = distinct(answer.views, 'state');
  const viewports = distinct(answer.views, 'viewport');
  const state = pick(states, query['state']);
  const viewport = pick(viewports, query['viewport']);
  const views = answer.views.filter((view) => view.state === state && view.viewport === viewport);
  const { items, complete, error } = useList('findings', { run: run.id }, { page: answer.page, state, viewport }, (part) => ({
    items: part.findings,
    next: part.next,
  }));
  const findings = useMemo(() => (complete ? downThePage(items) : items), [items, complete]);
  const shown = useMemo(() => findings.filter((finding) => passes(finding, query)), [findings, query]);
  const chosen = findings.find(({ id }) => id === query['finding']) ?? null;
  const zoom: Zoom = query['zoom'] === undefined || query['zoom'] === 'fit' ? 'fit' : Number(query['zoom']) || 1;
  const vision = VISIONS.find((value) => value === query['vision']) ?? 'none';
  const loupe = query['loupe'] === 'on';
  const marks = query['marks'] !== 'off';
  const wanted = query['finding'];
  // The first choice is a step of its own, so that Back returns to the page without one; from one to the next it is not.
  const choose = (finding: string | undefined): void => {
    amend({ run: run.id, finding }, { replace: wanted !== undefined });
    if (finding === undefined) document.querySelector<HTMLElement>('.list-body')?.focus();
  };
  const themed = query['theme'];
  const panes = themed === undefined ? views : views.filter((view) => view.theme === themed || view.theme === run.reference);

  return (
    <>
      <VisionFilters />
      <div class="page-tools">
        <div class="page-title">
          <h1>{answer.page}</h1>
          {answer.owner !== null && <span class="grid-owner">{answer.owner}</span>}
          <nav class="page-ways" aria-label="Pages">
            {answer.before !== null && (
              <a href={href('page', { ...query, run: run.id, page: answer.before, finding: undefined })} title={answer.before}>
                ← {answer.before}
              </a>
            )}
            {answer.after !== null && (
              <a href={href('page', { ...query, run: run.id, page: answer.after, finding: undefined })} title={answer.after}>
                {answer.after} →
              </a>
            )}
          </nav>
        </div>
        <div class="page-controls">
          {states.length > 1 && (
            <Choice
              label="State"
              value={state}
              options={states.map(plain)}
              onChange={(value) => {
                amend({ state: value, finding: undefined });
              }}
            />
          )}
          {viewports.length > 1 && (
            <Choice
              label="Viewport"
              value={viewport}
              options={viewports.map(plain)}
              onChange={(value) => {
                amend({ viewport: value, finding: undefined });
              }}
            />
          )}
          <Rail
            label="Size"
            value={String(zoom)}
            options={ZOOMS}
            onChange={(value) => {
              amend({ zoom: value === 'fit' ? undefined : value });
            }}
          />
          <Choice
            label="Seen with"
            value={vision}
            options={VISION_OPTIONS}
            onChange={(value) => {
              amend({ vision: value === 'none' ? undefined : value });
            }}
          />
          <Switch
            label="Marks"
            on={marks}
            onChange={(on) => {
              amend({ marks: on ? undefined : 'off' });
            }}
          />
          <Switch
            label="Loupe"
            on={loupe}
            onChange={(on) => {
              amend({ loupe: on ? 'on' : undefined });
            }}
          />
          <span class="page-filters">
            {FILTERS.map((filter) => (
              <Filter key={filter} filter={filter} findings={findings} query={query} />
            ))}
          </span>
        </div>
        {vision !== 'none' && (
          <p class="page-note">An approximation of how the colours may be seen; it helps to look and proves nothing.</p>
        )}
      </div>
      <div class="page-body">
        <Panes
          page={answer.page}
          views={panes}
          findings={shown}
          chosen={chosen}
          zoom={zoom}
          vision={vision}
          loupe={loupe}
          marks={marks}
          scaled={session.sharp}
          onChoose={choose}
        />
        <aside class="page-side" aria-label="Findings">
          {error !== null && <Failed error={error} what="the findings" />}
          {complete && wanted !== undefined && chosen === null && (
            <p class="page-note" role="status">
              This run has no finding <code class="breaks">{wanted}</code> here: it is mended, or was of another run, state or
              viewport.
            </p>
          )}
          <FindingList
            findings={shown}
            total={findings.length}
            complete={complete}
            unlooked={views.filter(({ status }) => status !== 'captured').map(({ theme }) => theme)}
            chosen={chosen}
            onChoose={choose}
          />
          {chosen !== null && <FindingDetail key={chosen.id} run={run} finding={chosen} findings={shown} onChoose={choose} />}
        </aside>
      </div>
    </>
  );
}

function Filter({
  filter,
  findings,
  query,
}: {
  readonly filter: (typeof FILTERS)[number];
  readonly findings: readonly Finding[];
  readonly query: Query;
}): JSX.Element | null {
  const counts = new Map<string, number>();
  for (const finding of findings) {
    const value = finding[filter];
    if (value !== undefined) counts.set(value, (counts.get(value) ?? 0) + 1);
  }
  const chosen = query[filter];
  if (counts.size < 2 && chosen === undefined) return null;
  if (chosen !== undefined && !counts.has(chosen)) counts.set(chosen, 0);
  const options = [...counts].map(([value, count]) => ({ value, label: `${value} (${count.toLocaleString('en')})` }));
  return (
    <Choice
      label={sentence(filter)}
      value={chosen ?? ''}
      options={[{ value: '', label: 'all' }, ...options]}
      onChange={(value) => {
        amend({ [filter]: value });
      }}
    />
  );
}

/** In reading order, the same place in all themes together. */
function downThePage(findings: readonly Finding[]): readonly Finding[] {
  const first = new Map<string, number>();
  for (const { key, rect } of findings)
    first.set(key, Math.min(first.get(key) ?? Infinity, Math.round(rect[1] / 8) * 100_000 + rect[0]));
  const place = ({ key }: Finding): number => first.get(key) ?? 0;
  return [...findings].sort((a, b) => place(a) - place(b) || (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
}

function passes(finding: Finding, query: Query): boolean {
  return FILTERS.every((filter) => query[filter] === undefined || finding[filter] === query[filter]);
}

function distinct(views: readonly PageView[], member: 'state' | 'viewport'): readonly string[] {
  return [...new Set(views.map((view) => view[member]))];
}

function pick(names: readonly string[], wanted: string | undefined): string {
  return names.find((name) => name === wanted) ?? names[0] ?? '';
}

function plain(value: string): Option {
  return { value, label: value };
}
