// The nights before: counts over time, the runs, and two of them side by side.
import type { JSX } from 'preact';
import type { Comparison, Night } from '../../api/history.ts';
import type { Finding } from '../../api/findings.ts';
import { Empty, LevelMark, Waiting } from '../parts/bits.tsx';
import { Layer, causeSubject, reachText } from '../parts/cause-parts.tsx';
import { Choice, Rail } from '../parts/choice.tsx';
import { CheckName } from '../parts/glyph.tsx';
import { Lines } from '../parts/plot.tsx';
import type { Series } from '../parts/plot.tsx';
import { Counted } from '../parts/counted.tsx';
import { findingHref } from '../parts/finding-href.ts';
import { amend, href } from '../route.ts';
import { siteForm } from '../site-files.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, instantNames, momentText } from '../words.ts';
import type { ScreenProps } from './screen-props.ts';

const WAYS = [
  { value: 'checks', label: 'by check' },
  { value: 'themes', label: 'by theme' },
  { value: 'owners', label: 'by owner' },
] as const;
type Way = (typeof WAYS)[number]['value'];

export function HistoryScreen({ session, run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('history', { params: {}, query: {} });
  const nights = asking.value?.nights ?? [];
  const way = WAYS.find(({ value }) => value === query['by'])?.value ?? 'checks';
  const nameOf = instantNames(nights.map(({ at }) => at));
  const titles = new Map<string, string>(session.checks.map(({ id, title }) => [id, title]));
  return (
    <>
      <div class="head">
        <h1>History</h1>
        <p class="head-note">{countText(nights.length, 'finished run')}</p>
      </div>
      {asking.value === undefined ? (
        <Waiting asking={asking} what="the history" />
      ) : nights.length === 0 ? (
        <Empty title="No run has finished yet." />
      ) : (
        <>
          <section class="panel" aria-label="Findings over the nights">
            <Rail
              label="Findings"
              value={way}
              options={WAYS}
              onChange={(by) => {
                amend({ by: by === 'checks' ? undefined : by });
              }}
            />
            <Lines
              title={`Findings ${WAYS.find(({ value }) => value === way)?.label ?? ''}`}
              xName="Run"
              yName="findings"
              xs={nights.map((night) => night.run)}
              nameOf={(id) => nameOf(nights.find((night) => night.run === id)?.at ?? '')}
              series={seriesOf(nights, way).map((series) => ({ ...series, name: titles.get(series.name) ?? series.name }))}
              heightPx={300}
            />
          </section>
          {!siteForm() && <Compare nights={nights} a={query['a'] ?? run.previous ?? ''} b={query['b'] ?? run.id} />}
          <Runs nights={nights} current={run.id} />
        </>
      )}
    </>
  );
}

/** Lines that can be told apart; what is left over is one more, so that nothing vanishes. */
const MOST_LINES = 8;

function seriesOf(nights: readonly Night[], way: Way): readonly Series[] {
  const names = [...new Set(nights.flatMap((night) => Object.keys(night[way])))];
  const valueOf = (night: Night, name: string): number => new Map<string, number>(Object.entries(night[way])).get(name) ?? 0;
  const most = (name: string): number => Math.max(...nights.map((night) => valueOf(night, name)));
  const ranked = [...names].sort((x, y) => most(y) - most(x));
  const shown = ranked.length > MOST_LINES ? ranked.slice(0, MOST_LINES - 1) : ranked;
  const rest = ranked.slice(shown.length);
  const line = (name: string, of: readonly string[]): Series => ({
    name,
    points: nights.map((night) => ({ x: night.run, y: of.reduce((sum, each) => sum + valueOf(night, each), 0) })),
  });
  return [
    ...shown.map((name) => line(name, [name])),
    ...(rest.length === 0 ? [] : [line(`${String(rest.length)} others together`, rest)]),
  ];
}

function Runs({ nights, current }: { readonly nights: readonly Night[]; readonly current: string }): JSX.Element {
  return (
    <section aria-labelledby="runs-title">
      <h2 id="runs-title">Runs</h2>
      <table class="table">
        <thead>
          <tr>
            <th scope="col">Started</th>
            <th scope="col">Run</th>
            <th scope="col" class="num">
              Findings
            </th>
            <th scope="col" class="num">
              Views failed
            </th>
          </tr>
        </thead>
        <tbody>
          {[...nights].reverse().map((night) => (
            <tr key={night.run} class={night.run === current ? 'here' : ''}>
              <th scope="row">
                {siteForm() ? momentText(night.at) : <a href={href('tonight', { run: night.run })}>{momentText(night.at)}</a>}
              </th>
              <td>
                <code>{night.run}</code>
                {night.run === current && <span class="quiet"> shown</span>}
              </td>
              <td class="num">{night.total.toLocaleString('en')}</td>
              <td class="num">{night.failed.toLocaleString('en')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Compare({
  nights,
  a,
  b,
}: {
  readonly nights: readonly Night[];
  readonly a: string;
  readonly b: string;
}): JSX.Element | null {
  const asking = useAnswer('compare', a === '' || b === '' || a === b ? null : { params: {}, query: { a, b } });
  if (nights.length < 2) return null;
  const options = [...nights].reverse().map((night) => ({ value: night.run, label: momentText(night.at) }));
  return (
    <section class="panel" aria-labelledby="compare-title">
      <div class="grid-head">
        <h2 id="compare-title">Compare two runs</h2>
        <Choice
          label="Before"
          value={a}
          options={a === '' ? [{ value: '', label: 'choose' }, ...options] : options}
          onChange={(value) => {
            amend({ a: value });
          }}
        />
        <Choice
          label="After"
          value={b}
          options={options}
          onChange={(value) => {
            amend({ b: value });
          }}
        />
      </div>
      {a === b ? (
        <p class="quiet">Choose two different runs.</p>
      ) : a === '' ? null : asking.value === undefined ? (
        <Waiting asking={asking} what="both runs" />
      ) : (
        <Compared comparison={asking.value} />
      )}
    </section>
  );
}

function Compared({ comparison }: { readonly comparison: Comparison }): JSX.Element {
  const { rows, fresh, freshTotal, gone, goneTotal, causes, a, b, viewsInBoth, viewsInOne } = comparison;
  return (
    <>
      <p class="lead">
        {countText(freshTotal, 'finding')} appeared, {goneTotal.toLocaleString('en')} went.
      </p>
      <p class="quiet">
        Open findings of the {countText(viewsInBoth, 'view')} that both runs judged; exempt ones are left out.
        {viewsInOne > 0 && ` ${countText(viewsInOne, 'view')} of one run alone ${viewsInOne === 1 ? 'is' : 'are'} not compared.`}
      </p>
      {causes.length > 0 && (
        <>
          <h3>Causes that are new</h3>
          <ul class="cause-lines">
            {causes.map((cause) => (
              <li key={cause.id}>
                <a class="cause-line" href={href('causes', { run: b, cause: cause.id })}>
                  <span class="cause-line-title">
                    <Layer layer={cause.layer} /> <b>{causeSubject(cause)}</b>
                  </span>
                  <span class="cause-line-reach">{reachText(cause)}</span>
                </a>
              </li>
            ))}
          </ul>
        </>
      )}
      <table class="table">
        <caption class="unseen">Findings by check and theme, before and after</caption>
        <thead>
          <tr>
            <th scope="col">Check</th>
            <th scope="col">Theme</th>
            {['Before', 'After', 'Appeared', 'Went'].map((name) => (
              <th scope="col" class="num" key={name}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={`${row.check} ${row.theme}`}>
              <th scope="row">
                <CheckName check={row.check} />
              </th>
              <td>{row.theme}</td>
              <Counted run={a} count={row.before} filter={{ check: row.check, theme: row.theme }} />
              <Counted run={b} count={row.after} filter={{ check: row.check, theme: row.theme }} />
              <td class="num">{row.fresh === 0 ? '0' : <b>{row.fresh.toLocaleString('en')}</b>}</td>
              <td class="num">{row.gone.toLocaleString('en')}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <div class="tonight-two even">
        <Some title="Appeared" findings={fresh} total={freshTotal} run={b} />
        <Some title="Went" findings={gone} total={goneTotal} run={a} />
      </div>
    </>
  );
}

function Some({
  title,
  findings,
  total,
  run,
}: {
  readonly title: string;
  readonly findings: readonly Finding[];
  readonly total: number;
  readonly run: string;
}): JSX.Element {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      {total === 0 && <p class="quiet">Nothing.</p>}
      <ul class="some">
        {findings.slice(0, 20).map((finding) => (
          <li key={finding.id}>
            <a href={findingHref(run, finding)}>
              <CheckName check={finding.check} /> · {finding.page}, {finding.theme}
            </a>{' '}
            <LevelMark level={finding.level} />
            <span class="some-message">{finding.message}</span>
          </li>
        ))}
      </ul>
      {total > 20 && <p class="quiet">and {(total - 20).toLocaleString('en')} more</p>}
    </section>
  );
}
