// Whether a theme may launch, as the gate judges it; one printable page a theme with room for the names of those who sign.
import type { JSX } from 'preact';
import type { Launch, LaunchLink, ThemeLaunch } from '../../api/launch.ts';
import { Waiting } from '../parts/bits.tsx';
import { Button, Rail } from '../parts/choice.tsx';
import { Lines } from '../parts/plot.tsx';
import { StackTable, Value } from '../parts/table.tsx';
import { listHref } from '../list/list-asked.ts';
import { amend, href } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, instantNames, momentText, percentText } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';

export function LaunchScreen({ run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('launch', { params: { run: run.id }, query: {} });
  if (asking.value === undefined) return <Waiting asking={asking} what="the verdicts" />;
  const { themes, configured, today } = asking.value;
  const chosen =
    themes.find(({ theme }) => theme === query['theme']) ?? themes.find(({ theme }) => theme !== run.reference) ?? themes[0];
  return (
    <>
      <div class="head no-print">
        <h1>Launch</h1>
        <span class="head-tools">
          <Button
            onClick={() => {
              print();
            }}
          >
            Print
          </Button>
        </span>
      </div>
      <Overview launch={asking.value} chosen={chosen?.theme ?? ''} />
      {!configured && (
        <p class="page-note no-print">
          This report was started without a configuration; each theme is judged by the least: no finding of level error, no warning
          of unthemed, flipped, inverted-picture or neon.
        </p>
      )}
      {chosen !== undefined && <Sheet run={run.id} at={run.startedAt} today={today} launch={chosen} />}
    </>
  );
}

function Overview({ launch, chosen }: { readonly launch: Launch; readonly chosen: string }): JSX.Element {
  return (
    <div class="no-print">
      <Rail
        label="Theme"
        value={chosen}
        options={launch.themes.map(({ theme, may, criteria }) => ({
          value: theme,
          label: `${theme}: ${may ? 'may launch' : `${String(criteria.filter(({ met }) => !met).length)} open`}`,
        }))}
        onChange={(theme) => {
          amend({ theme });
        }}
      />
    </div>
  );
}

function Sheet({
  run,
  at,
  today,
  launch,
}: {
  readonly run: string;
  readonly at: string;
  readonly today: string;
  readonly launch: ThemeLaunch;
}): JSX.Element {
  const nameOf = instantNames(launch.nights.map((night) => night.at));
  const missing = launch.criteria.filter(({ met }) => !met).length;
  return (
    <article class="sheet" aria-labelledby="sheet-title">
      <header class="sheet-head">
        <div>
          <p class="quiet">Launch sheet</p>
          <h2 id="sheet-title" class="sheet-theme">
            {launch.theme}
          </h2>
        </div>
        <div class={launch.may ? 'verdict verdict-may' : 'verdict'}>
          <p class="verdict-word">
            <svg viewBox="0 0 24 24" aria-hidden="true">
              <circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2.5" />
              {launch.may ? (
                <circle cx="12" cy="12" r="5" fill="currentColor" />
              ) : (
                <path d="M3.5 12h17" stroke="currentColor" stroke-width="2.5" />
              )}
            </svg>
            {launch.may ? 'May launch' : 'Not yet'}
          </p>
          <p>{launch.may ? 'Every criterion is met.' : `${countText(missing, 'criterion', 'criteria')} open; nearest first.`}</p>
        </div>
        <p class="quiet sheet-run">
          run of {momentText(at)} · judged {today}
          <br />
          <a href={listHref(run, { theme: launch.theme, status: 'new' })}>{countText(launch.counts.new, 'new finding')}</a>,{' '}
          <a href={listHref(run, { theme: launch.theme, status: 'known' })}>{launch.counts.known.toLocaleString('en')} known</a>,{' '}
          <a href={listHref(run, { theme: launch.theme, status: 'exempt' })}>{launch.counts.exempt.toLocaleString('en')} exempt</a>,{' '}
          {launch.counts.gone.toLocaleString('en')} gone
        </p>
      </header>
      {launch.notAsked.length > 0 && (
        <section aria-labelledby="not-asked-title">
          <h3 id="not-asked-title">Not asked</h3>
          <ul class="warnings">
            {launch.notAsked.map((said) => (
              <li key={said}>{said}</li>
            ))}
          </ul>
        </section>
      )}
      <StackTable name="Criteria" caption="Criteria" columns={['Criterion', 'State', 'Needed', 'Found', 'Next step']}>
        {launch.criteria.map((criterion) => (
          <tr key={criterion.id} role="row" class={criterion.met ? '' : 'unmet'}>
            <th scope="row" role="rowheader">
              {criterion.name}
            </th>
            <Value name="State" class="criterion-state">
              {criterion.met ? '● holds' : '○ open'}
            </Value>
            <Value name="Needed">{criterion.needed}</Value>
            <Value name="Found">{criterion.found}</Value>
            <Value name="Next step">
              {criterion.step}
              {criterion.links.length > 0 && (
                <ul class="links">
                  {criterion.links.map((link) => (
                    <li key={link.id}>
                      <a href={addressOf(link, run)}>{link.label}</a>
                    </li>
                  ))}
                </ul>
              )}
            </Value>
          </tr>
        ))}
      </StackTable>
      {launch.warnings.length > 0 && (
        <ul class="warnings">
          {launch.warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <div class="sheet-two">
        <section aria-labelledby="sheet-coverage">
          <h3 id="sheet-coverage">Colours through tokens</h3>
          {launch.coverage.length === 0 ? <p class="quiet">Not measured.</p> : <Coverage launch={launch} />}
        </section>
        <section aria-label="Trend">
          <Lines
            title="Findings over the nights"
            xName="Run"
            yName="findings"
            xs={launch.nights.map((night) => night.run)}
            nameOf={(id) => nameOf(launch.nights.find((night) => night.run === id)?.at ?? '')}
            series={[
              { name: 'all', points: launch.nights.map((night) => ({ x: night.run, y: night.findings })) },
              { name: 'errors', points: launch.nights.map((night) => ({ x: night.run, y: night.errors })) },
            ]}
            heightPx={180}
          />
        </section>
      </div>
      <section aria-labelledby="sheet-exempt">
        <h3 id="sheet-exempt">{countText(launch.exemptions.length, 'exemption')}</h3>
        {launch.exemptions.length > 0 && <Exemptions launch={launch} />}
      </section>
      <footer class="sign-off">
        {['Design', 'Engineering', 'Product'].map((part) => (
          <p key={part}>{part}</p>
        ))}
      </footer>
    </article>
  );
}

function addressOf(link: LaunchLink, run: string): string {
  if (link.kind === 'cause') return href('causes', { run, cause: link.id });
  const { page, state, viewport } = link.at ?? { page: undefined, state: undefined, viewport: undefined };
  return href('page', { run, page, state, viewport, finding: link.kind === 'finding' ? link.id : undefined });
}

function Coverage({ launch }: { readonly launch: ThemeLaunch }): JSX.Element {
  return (
    <table class="table">
      <caption class="unseen">Share of painted colours that go through tokens, by owner</caption>
      <thead>
        <tr>
          <th scope="col">Owner</th>
          <th scope="col" class="num">
            Share
          </th>
          <th scope="col">
            <span class="unseen">As a bar</span>
          </th>
          <th scope="col" class="num">
            Uses
          </th>
        </tr>
      </thead>
      <tbody>
        {launch.coverage.map(({ owner, uses, throughTokens }) => {
          const share = uses === 0 ? 0 : throughTokens / uses;
          return (
            <tr key={owner}>
              <th scope="row">{owner === '' ? 'nobody' : owner}</th>
              <td class="num">{percentText(share)}</td>
              <td class="bar-cell">
                <span class="reach" aria-hidden="true">
                  <span style={{ width: `${100 * share}%` }} />
                </span>
              </td>
              <td class="num">{uses.toLocaleString('en')}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

const STANDING = { holds: '', ending: 'ends soon', expired: 'is over' } as const;

function Exemptions({ launch }: { readonly launch: ThemeLaunch }): JSX.Element {
  return (
    <table class="table">
      <caption class="unseen">Exemptions</caption>
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Why</th>
          <th scope="col">Owner</th>
          <th scope="col">Until</th>
          <th scope="col" class="num">
            Covers
          </th>
        </tr>
      </thead>
      <tbody>
        {launch.exemptions.map((exemption, index) => (
          <tr key={index}>
            <th scope="row">
              <code class="breaks">{exemption.scope}</code>
            </th>
            <td>{exemption.why}</td>
            <td>{exemption.owner ?? '–'}</td>
            <td>
              {exemption.until ?? 'no end'} {STANDING[exemption.state] !== '' && <b>{STANDING[exemption.state]}</b>}
            </td>
            <td class="num">
              {exemption.covers === null ? 'the next run tells' : exemption.covers.toLocaleString('en')}{' '}
              {exemption.idle && <b>nothing needs it</b>}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
