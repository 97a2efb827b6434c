// A page for each token and step: what it is in every theme, where on its ramp, all it paints, what is wrong because of it, who uses it.
import type { JSX } from 'preact';
import type { PaintedPlace, TokenPage, TokenTheme } from '../../api/token.ts';
import { Empty, Fresh, Swatch, Waiting } from '../parts/bits.tsx';
import { Layer, causeSubject, reachText } from '../parts/cause-parts.tsx';
import { PlaceCrop } from '../parts/crop.tsx';
import { StackTable, Value } from '../parts/table.tsx';
import { listHref } from '../list/list-asked.ts';
import { siteForm } from '../site-files.ts';
import { href } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, numberText, ratioText } from '../words.ts';
import type { ScreenProps } from '../screens/screen-props.ts';

export function TokenScreen({ session, run, query }: ScreenProps): JSX.Element {
  const token = query['token'] ?? '';
  const asking = useAnswer('token', token === '' ? null : { params: { run: run.id }, query: { token } });
  if (token === '')
    return (
      <>
        <h1>Token</h1>
        <Empty title="No token was named.">
          <p>
            Press / and type a part of its name, or choose it on its <a href={href('ramps', { run: run.id })}>ramp</a>.
          </p>
        </Empty>
      </>
    );
  const sheet = asking.value;
  return (
    <>
      <div class="head">
        <h1 class="breaks">{token}</h1>
        {sheet !== undefined && (
          <p class="head-note">
            {sheet.ramp !== null && (
              <>
                ramp <a href={href('ramps', { run: run.id, ramp: sheet.ramp })}>{sheet.ramp}</a> ·{' '}
              </>
            )}
            {sheet.known && !siteForm() && (
              <>
                <a href={href('bench', { run: run.id, ramp: sheet.ramp ?? token, step: token })}>try another value on the bench</a>{' '}
                ·{' '}
              </>
            )}
            {sheet.findings === 0 ? (
              'no open finding'
            ) : (
              <a href={listHref(run.id, { token })}>{countText(sheet.findings, 'open finding')}</a>
            )}
          </p>
        )}
      </div>
      {sheet === undefined ? <Waiting asking={asking} what={token} /> : <Sheet sheet={sheet} run={run.id} sharp={session.sharp} />}
    </>
  );
}

interface SheetProps {
  readonly sheet: TokenPage;
  readonly run: string;
  readonly sharp: boolean;
}

function Sheet({ sheet, run, sharp }: SheetProps): JSX.Element {
  const { token, known, themes, users, causes, places, faults } = sheet;
  if (!known && causes.length === 0 && faults.length === 0)
    return (
      <Empty title="The token files have no such token.">
        <p>It may have been renamed, or this report was started without the configuration that names the files.</p>
      </Empty>
    );
  return (
    <>
      {faults.length > 0 && (
        <section aria-labelledby="token-faults">
          <h2 id="token-faults">Wrong in the files</h2>
          <ul class="warnings">
            {faults.map(({ id, theme, message }) => (
              <li key={id}>
                {message} <span class="quiet">{theme}</span>
              </li>
            ))}
          </ul>
        </section>
      )}
      {themes.length > 0 && <Themes themes={themes} run={run} token={token} />}
      <section aria-labelledby="token-causes">
        <h2 id="token-causes">Causes that name it</h2>
        {causes.length === 0 && <p class="quiet">None in this run.</p>}
        <ul class="cause-lines">
          {causes.map((cause) => (
            <li key={cause.id}>
              <a class="cause-line" href={href('causes', { run, cause: cause.id })}>
                <span class="cause-line-title">
                  <Layer layer={cause.layer} /> <b>{causeSubject(cause)}</b> <Fresh count={cause.fresh} />
                </span>
                <span class="cause-line-reach">{reachText(cause)}</span>
              </a>
            </li>
          ))}
        </ul>
      </section>
      {users.length > 0 && (
        <section aria-labelledby="token-users">
          <h2 id="token-users">{countText(users.length, 'token')} on it</h2>
          <ul class="token-users">
            {users.map((user) => (
              <li key={user}>
                <a href={href('token', { run, token: user })}>{user}</a>
              </li>
            ))}
          </ul>
        </section>
      )}
      {known && <Paints themes={themes} places={places} run={run} sharp={sharp} />}
    </>
  );
}

function Themes({
  themes,
  run,
  token,
}: {
  readonly themes: readonly TokenTheme[];
  readonly run: string;
  readonly token: string;
}): JSX.Element {
  return (
    <section aria-labelledby="token-themes">
      <h2 id="token-themes">In each theme</h2>
      <StackTable
        name="In each theme"
        caption={`${token} in each theme`}
        columns={['Theme', 'Colour', 'Chain', 'On its ramp', { num: 'Paints' }]}
      >
        {themes.map(({ theme, color, value, chain, steps, step, painted }) => (
          <tr key={theme} role="row">
            <th scope="row" role="rowheader">
              {theme}
            </th>
            <Value name="Colour">{color === null ? <span class="quiet">{value}</span> : <Swatch color={color} />}</Value>
            <Value name="Chain">
              {chain.map((hop, index) => (
                <span key={index} class="token-hop">
                  {index > 0 && <span aria-label="points at"> → </span>}
                  {hop.token === token ? (
                    <code>{hop.token}</code>
                  ) : (
                    <a href={href('token', { run, token: hop.token })}>{hop.token}</a>
                  )}
                  {index === chain.length - 1 && (
                    <span class="quiet">
                      {' '}
                      {hop.file}:{hop.line}
                    </span>
                  )}
                </span>
              ))}
            </Value>
            <Value name="On its ramp">
              {steps.length > 0 && (
                <span class="token-strip">
                  {steps.map((one) => (
                    <a
                      key={one.token}
                      href={href('token', { run, token: one.token })}
                      class="ramp-chip"
                      aria-current={one.token === step ? 'true' : undefined}
                      aria-label={`${one.token}, ${one.color}`}
                      title={`${one.token} ${one.color}`}
                      style={{ backgroundColor: one.color }}
                    />
                  ))}
                </span>
              )}
            </Value>
            <Value name="Paints" class="num">
              {painted === null ? '–' : numberText(painted)}
            </Value>
          </tr>
        ))}
      </StackTable>
    </section>
  );
}

const VERDICT_WORDS = {
  pass: 'passes',
  fail: 'fails',
  mixed: 'fails in part',
  exempt: 'nothing asked',
  unknown: 'cannot be told',
} as const;

function Paints({
  themes,
  places,
  run,
  sharp,
}: {
  readonly themes: readonly TokenTheme[];
  readonly places: readonly PaintedPlace[];
  readonly run: string;
  readonly sharp: boolean;
}): JSX.Element {
  const total = themes.reduce((sum, { painted }) => sum + (painted ?? 0), 0);
  return (
    <section class="token-paints" aria-labelledby="token-paints">
      <h2 id="token-paints">What it paints</h2>
      {total === 0 && <p class="quiet">Nothing on the pages of this run, at rest.</p>}
      {themes.map(({ theme, painted }) => {
        const mine = places.filter((place) => place.theme === theme);
        if (mine.length === 0) return null;
        return (
          <div key={theme}>
            <h3>
              {theme}{' '}
              <span class="quiet">
                {(painted ?? 0) > mine.length
                  ? `${numberText(mine.length)} of ${countText(painted ?? 0, 'place')}`
                  : countText(mine.length, 'place')}
              </span>
            </h3>
            <ul class="crops">
              {mine.map((place, index) => (
                <li key={index}>
                  <a
                    href={href('page', { run, page: place.page, theme: place.theme, finding: place.finding ?? undefined })}
                    title={place.selector}
                  >
                    <PlaceCrop place={{ ...place, finding: { rect: place.rect } }} cut={sharp} />
                    <span class="crop-name">
                      {place.page} <span class="quiet">{place.property}</span>
                      <br />
                      <span class={place.verdict === 'fail' || place.verdict === 'mixed' ? 'sheet-fails' : 'quiet'}>
                        {place.contrast === null ? '' : `${ratioText(place.contrast)} `}
                        {place.verdict === null
                          ? place.finding === null
                            ? 'no finding'
                            : 'has a finding'
                          : VERDICT_WORDS[place.verdict]}
                      </span>
                    </span>
                  </a>
                </li>
              ))}
            </ul>
          </div>
        );
      })}
    </section>
  );
}
