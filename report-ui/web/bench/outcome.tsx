// What a proposal comes to: mended, broken, left by theme and check; the pairs that bind; the places where it shows, before and after.
import type { JSX } from 'preact';
import type { Weighed, WeighedPlace } from '../../../src/forecast/weigh-proposal.ts';
import { TableHead } from '../parts/table.tsx';
import { href } from '../route.ts';
import { countText, ratioText } from '../words.ts';

export function Outcome({ weighed, run }: { readonly weighed: Weighed; readonly run: string }): JSX.Element {
  return (
    <>
      <section class="bench-part" aria-label="What it mends and breaks">
        <h2>What it comes to</h2>
        {weighed.rows.length === 0 ? (
          <p class="quiet">Nothing is changed yet, or nothing that shows on a page.</p>
        ) : (
          <table class="table">
            <caption class="unseen">Findings by theme and check</caption>
            <TableHead
              columns={['Theme', 'Check', { num: 'Mends' }, { num: 'Breaks' }, { num: 'Leaves' }, { num: 'Cannot tell' }]}
            />
            <tbody>
              {weighed.rows.map(({ theme, check, mends, breaks, leaves, unsure }) => (
                <tr key={`${theme} ${check}`}>
                  <th scope="row">{theme}</th>
                  <td>{check}</td>
                  <td class="num">{mends}</td>
                  <td class={breaks > 0 ? 'num bench-worse' : 'num'}>{breaks}</td>
                  <td class="num">{leaves}</td>
                  <td class="num">{unsure}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
      {weighed.pairs.length > 0 && (
        <section class="bench-part" aria-label="Binding pairs">
          <h2>Pairs nearest to their limit</h2>
          <table class="table">
            <caption class="unseen">Ink on ground, contrast before and after</caption>
            <TableHead
              columns={['Ink on ground', 'Theme', { num: 'Before' }, { num: 'After' }, { num: 'Needs' }, { num: 'Places' }]}
            />
            <tbody>
              {weighed.pairs.map(({ ink, ground, theme, before, after, required, places }) => (
                <tr key={`${ink} ${ground} ${theme} ${required}`}>
                  <th scope="row">
                    {ink} on {ground}
                  </th>
                  <td>{theme}</td>
                  <td class="num">{ratioText(before)}</td>
                  <td class={after < required ? 'num bench-worse' : 'num'}>{ratioText(after)}</td>
                  <td class="num">{required}</td>
                  <td class="num">{places}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
      {weighed.places.length > 0 && (
        <section class="bench-part" aria-label="Places">
          <h2>Where it shows most</h2>
          <ul class="bench-places">
            {weighed.places.map((place) => (
              <Shown key={`${place.view} ${place.selector} ${place.check}`} place={place} run={run} />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

const FATES = { broken: 'breaks', left: 'leaves', mended: 'mends' } as const satisfies Record<WeighedPlace['fate'], string>;

function Shown({ place, run }: { readonly place: WeighedPlace; readonly run: string }): JSX.Element {
  const { page, theme, state, viewport, label, check, fate, places } = place;
  return (
    <li>
      <span class="bench-look">
        <Patch {...place} look={place.before} title="before" />
        <Patch {...place} look={place.after} title="after" />
      </span>
      <span>
        <b class={fate === 'broken' ? 'bench-worse' : ''}>{FATES[fate]}</b> {check}, {countText(places, 'place')}:{' '}
        <a href={href('page', { run, page, theme, state, viewport })}>
          {page} in {theme}
        </a>
        <br />
        <span class="quiet">{label}</span>
      </span>
    </li>
  );
}

function Patch({
  kind,
  label,
  look,
  title,
}: WeighedPlace & { readonly look: WeighedPlace['before']; readonly title: string }): JSX.Element {
  const words = `${title}: ${look.fore} on ${look.back}`;
  return (
    <span class="bench-patch" style={{ backgroundColor: look.back, color: look.fore }} role="img" aria-label={words} title={words}>
      {kind === 'text' ? label.slice(0, 24) : <span class="bench-dot" style={{ backgroundColor: look.fore }} />}
    </span>
  );
}
