// Whether a theme may launch, as the gate judges it; one printable page a theme with room for the names of those who sign.
import type { JSX } from 'preact';
import type { Launch, ThemeLaunch } from '../../api/launch.ts';
import { fileAddress } from '../client.ts';
import { Waiting } from '../parts/bits.tsx';
import { Button, Rail } from '../parts/choice.tsx';
import { Lines } from '../parts/plot.tsx';
import { listHref } from '../list/list-asked.ts';
import { amend } from '../route.ts';
import { siteForm } from '../site-files.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, instantNames, numberText, percentText } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';
import { SheetView } from './sheet-view.tsx';

export function LaunchScreen({ run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('launch', { params: { run: run.id }, query: {} });
  if (asking.value === undefined) return <Waiting asking={asking} what="the verdicts" />;
  const { themes, configured } = asking.value;
  const chosen =
    themes.find(({ theme }) => theme === query['theme']) ?? themes.find(({ theme }) => theme !== run.reference) ?? themes[0];
  return (
    <>
      <div class="head no-print">
        <h1>Launch</h1>
        <span class="head-tools">
          {chosen !== undefined && !siteForm() && (
            <a class="button button-plain" href={fileAddress(`/sheets/${run.id}/${encodeURIComponent(chosen.theme)}`)} download>
              Save as a file
            </a>
          )}
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
      {chosen !== undefined && (
        <>
          <SheetView sheet={chosen.sheet} run={run.id} />
          <p class="no-print">
            Of {chosen.theme}:{' '}
            <a href={listHref(run.id, { theme: chosen.theme, status: 'new' })}>{countText(chosen.counts.new, 'new finding')}</a>,{' '}
            <a href={listHref(run.id, { theme: chosen.theme, status: 'known' })}>{numberText(chosen.counts.known)} known</a>,{' '}
            <a href={listHref(run.id, { theme: chosen.theme, status: 'exempt' })}>{numberText(chosen.counts.exempt)} exempt</a>
          </p>
          <Beside launch={chosen} />
        </>
      )}
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

/** What is worth a look beside the sheet, and is no part of it. */
function Beside({ launch }: { readonly launch: ThemeLaunch }): JSX.Element {
  const nameOf = instantNames(launch.nights.map((night) => night.at));
  return (
    <div class="sheet-two no-print">
      <section class="panel" aria-labelledby="sheet-coverage">
        <h3 id="sheet-coverage">Colours through tokens</h3>
        {launch.coverage.length === 0 ? <p class="quiet">Not measured.</p> : <Coverage launch={launch} />}
      </section>
      <section class="panel" aria-label="Trend">
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
  );
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
