// What changed since last night, causes first; then everything, as a grid of pages and themes.
import type { JSX } from 'preact';
import { useContext } from 'preact/hooks';
import type { ScreenProps } from './screen-props.ts';
import type { Tonight } from '../../api/tonight.ts';
import { Fresh, Figure, Waiting } from '../parts/bits.tsx';
import { Layer, causeSubject, reachText } from '../parts/cause-parts.tsx';
import { Counted } from '../parts/counted.tsx';
import { CheckName, ChecksContext } from '../parts/glyph.tsx';
import { listHref } from '../list/list-asked.ts';
import { href } from '../route.ts';
import { askOnce, useAnswer } from '../use-answer.ts';
import { changeText, countText, momentText, percentText } from '../words.ts';
import { GridPart } from './grid.tsx';

/** Puts the screen's questions before there is a run to show it with. */
export function askTonight(run: string): void {
  // Told where the screen itself asks.
  for (const asked of [askOnce('tonight', { run }, {}), askOnce('grid', { run }, {})]) asked.catch(() => undefined);
}

export function TonightScreen({ run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('tonight', { params: { run: run.id }, query: {} });
  const tonight = asking.value;
  const keep = { run: run.id };
  return (
    <>
      <div class="head">
        <h1>Tonight</h1>
        <p class="head-note">
          {momentText(run.startedAt)} · {countText(run.views, 'view')} · {countText(run.themes.length, 'theme')} · {run.browser}
        </p>
      </div>
      {tonight === undefined ? (
        <Waiting asking={asking} what="what changed" />
      ) : (
        <>
          <p class="lead">{summary(tonight)}</p>
          <div class="figures">
            <Figure value={tonight.total.fresh.toLocaleString('en')} label="new" href={listHref(run.id, { status: 'new' })} />
            <Figure
              value={tonight.total.gone.toLocaleString('en')}
              label="gone"
              href={href('history', { ...keep, a: tonight.previous ?? '', b: run.id })}
            />
            <Figure value={tonight.total.known.toLocaleString('en')} label="known" href={listHref(run.id, { status: 'known' })} />
            <Figure
              value={tonight.total.exempt.toLocaleString('en')}
              label="exempt"
              href={listHref(run.id, { status: 'exempt' })}
            />
            <Figure value={tonight.drift.toLocaleString('en')} label="pictures changed" href={href('changes', keep)} />
            <Figure value={tonight.failedTotal.toLocaleString('en')} label="views failed" />
          </div>
          <div class="tonight-two">
            <section aria-labelledby="tonight-causes">
              <h2 id="tonight-causes">Causes{tonight.causes.some((cause) => cause.fresh > 0) ? ', new ones first' : ''}</h2>
              <CauseLines tonight={tonight} run={run.id} />
            </section>
            <section aria-labelledby="tonight-themes">
              <h2 id="tonight-themes">Themes</h2>
              <ThemeTable tonight={tonight} run={run.id} />
              <ByCheck tonight={tonight} run={run.id} />
            </section>
          </div>
          {tonight.failedTotal > 0 && <Failed tonight={tonight} run={run.id} />}
        </>
      )}
      <GridPart run={run} query={query} />
    </>
  );
}

function summary({ total, causes, previous, failedTotal }: Tonight): string {
  const fresh = causes.filter((cause) => cause.fresh > 0);
  const explained = fresh.reduce((sum, cause) => sum + cause.fresh, 0);
  const parts: string[] = [];
  if (previous === null) parts.push(`This is the first run: ${countText(total.fresh + total.known, 'finding')}.`);
  else if (total.fresh === 0 && total.gone === 0) parts.push('Nothing changed since the run before.');
  else
    parts.push(
      `${countText(total.fresh, 'finding')} ${total.fresh === 1 ? 'is' : 'are'} new, ${total.gone.toLocaleString('en')} gone.`,
    );
  if (fresh.length > 0 && total.fresh > 0) {
    parts.push(
      `${countText(fresh.length, 'cause')} ${fresh.length === 1 ? 'explains' : 'explain'} ${explained.toLocaleString('en')} of the new ones.`,
    );
  }
  if (failedTotal > 0) parts.push(`${countText(failedTotal, 'view')} could not be captured.`);
  return parts.join(' ');
}

function CauseLines({ tonight, run }: { readonly tonight: Tonight; readonly run: string | undefined }): JSX.Element {
  if (tonight.causes.length === 0) return <p class="quiet">No causes were told in this run.</p>;
  return (
    <>
      <ol class="cause-lines">
        {tonight.causes.slice(0, 6).map((cause) => (
          <li key={cause.id}>
            <a class="cause-line" href={href('causes', { run, cause: cause.id })}>
              <span class="cause-line-title">
                <Layer layer={cause.layer} /> <b>{causeSubject(cause)}</b> <Fresh count={cause.fresh} />
              </span>
              <span class="cause-line-reach">{reachText(cause)}</span>
              {cause.repair !== undefined && (
                <span class="cause-line-repair">
                  {changeText({ layer: cause.layer, repair: cause.repair })}: mends {cause.repair.fixes.toLocaleString('en')},
                  breaks {cause.repair.breaks.toLocaleString('en')}
                </span>
              )}
            </a>
          </li>
        ))}
      </ol>
      {tonight.causesTotal > 6 && <a href={href('causes', { run })}>All {tonight.causesTotal.toLocaleString('en')} causes</a>}
    </>
  );
}

function ThemeTable({ tonight, run }: { readonly tonight: Tonight; readonly run: string }): JSX.Element {
  return (
    <table class="table">
      <thead>
        <tr>
          <th scope="col">Theme</th>
          <th scope="col" class="num">
            New
          </th>
          <th scope="col" class="num">
            Gone
          </th>
          <th scope="col" class="num">
            Known
          </th>
          <th scope="col" class="num">
            Through tokens
          </th>
        </tr>
      </thead>
      <tbody>
        {tonight.themes.map((row) => (
          <tr key={row.theme}>
            <th scope="row">{row.theme}</th>
            <Counted run={run} count={row.fresh} filter={{ theme: row.theme, status: 'new' }} bold />
            <td class="num">{row.gone.toLocaleString('en')}</td>
            <Counted run={run} count={row.known} filter={{ theme: row.theme, status: 'known' }} />
            <td class="num">{row.coverage === null ? '–' : percentText(row.coverage)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function ByCheck({ tonight, run }: { readonly tonight: Tonight; readonly run: string }): JSX.Element | null {
  const rows = useContext(ChecksContext)
    .map(({ id }) => ({ check: id, fresh: tonight.freshByCheck[id] ?? 0, gone: tonight.goneByCheck[id] ?? 0 }))
    .filter(({ fresh, gone }) => fresh + gone > 0);
  if (rows.length === 0) return null;
  return (
    <table class="table">
      <thead>
        <tr>
          <th scope="col">Check</th>
          <th scope="col" class="num">
            New
          </th>
          <th scope="col" class="num">
            Gone
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ check, fresh, gone }) => (
          <tr key={check}>
            <th scope="row">
              <CheckName check={check} />
            </th>
            <Counted run={run} count={fresh} filter={{ check, status: 'new' }} />
            <td class="num">{gone.toLocaleString('en')}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Failed({ tonight, run }: { readonly tonight: Tonight; readonly run: string | undefined }): JSX.Element {
  return (
    <section aria-labelledby="tonight-failed">
      <h2 id="tonight-failed">Views that failed</h2>
      <ul class="failed-lines">
        {tonight.failed.map((view) => (
          <li key={view.view}>
            <a href={href('page', { run, page: view.page, state: view.state, viewport: view.viewport })}>
              {view.page} · {view.theme} · {view.state} · {view.viewport}
            </a>
            <span>{view.error}</span>
          </li>
        ))}
      </ul>
      {tonight.failedTotal > tonight.failed.length && (
        <p class="quiet">and {(tonight.failedTotal - tonight.failed.length).toLocaleString('en')} more</p>
      )}
    </section>
  );
}
