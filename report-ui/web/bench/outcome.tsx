// What a proposal comes to: mended, broken, left by theme and check; the pairs that bind; the places where it shows, before and after.
import type { JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { Answer } from '../../api/endpoints.ts';
import type { Weighed, WeighedPlace } from '../../../src/forecast/weigh-proposal.ts';
import { Button } from '../parts/choice.tsx';
import { PlaceCrop } from '../parts/crop.tsx';
import { TableHead } from '../parts/table.tsx';
import { href } from '../route.ts';
import { useAnswer } from '../use-answer.ts';
import { countText, ratioText } from '../words.ts';
import { RecoloredCrop } from './recolored-crop.tsx';

interface PlacesProps {
  readonly run: string;
  readonly shots: ReadonlyMap<string, Shot>;
  /** The server cuts pictures. */
  readonly cut: boolean;
  /** A view is to be seen as a whole. */
  readonly onSee: (view: string) => void;
}

type Shot = Answer<'benchShots'>['shots'][number];

export function Outcome({ weighed, run, cut, onSee }: Omit<PlacesProps, 'shots'> & { readonly weighed: Weighed }): JSX.Element {
  const views = [...new Set(weighed.places.map(({ view }) => view))].sort();
  const asking = useAnswer('benchShots', views.length === 0 ? null : { params: { run }, query: { views: JSON.stringify(views) } });
  // Until those of the new places are there, the old ones serve where they can.
  const kept = useRef<ReadonlyMap<string, Shot>>(new Map());
  if (asking.value !== undefined) kept.current = new Map(asking.value.shots.map((shot) => [shot.view, shot]));
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
              <Shown
                key={`${place.view} ${place.selector} ${place.check}`}
                place={place}
                run={run}
                shots={kept.current}
                cut={cut}
                onSee={onSee}
              />
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

const FATES = { broken: 'breaks', left: 'leaves', mended: 'mends' } as const satisfies Record<WeighedPlace['fate'], string>;

function Shown({ place, run, shots, cut, onSee }: PlacesProps & { readonly place: WeighedPlace }): JSX.Element {
  const { page, theme, state, viewport, label, check, fate, places } = place;
  const shot = shots.get(place.view);
  return (
    <li>
      <Looks place={place} shot={shot} cut={cut} />
      <span>
        <b class={fate === 'broken' ? 'bench-worse' : ''}>{FATES[fate]}</b> {check}, {countText(places, 'place')}:{' '}
        <a href={href('page', { run, page, theme, state, viewport })}>
          {page} in {theme}
        </a>
        <br />
        <span class="quiet">{label}</span>
        <br />
        <Button
          kind="quiet"
          onClick={() => {
            onSee(place.view);
          }}
        >
          See the whole page
          <span class="unseen">
            {' '}
            {page} in {theme}
          </span>
        </Button>
      </span>
    </li>
  );
}

/** Cut out of the stored picture, before and recoloured in place; swatches where there is none. */
function Looks({
  place,
  shot,
  cut,
}: {
  readonly place: WeighedPlace;
  readonly shot: Shot | undefined;
  readonly cut: boolean;
}): JSX.Element {
  const { kind, rect, before, after } = place;
  if (shot === undefined || kind === 'picture')
    return (
      <span class="bench-look">
        <Patch {...place} look={before} title="before" />
        <Patch {...place} look={after} title="after" />
      </span>
    );
  const at = { ...shot, finding: { rect } };
  const look = { rect: [...rect] as const, kind, before, after };
  return (
    <span class="bench-look">
      <span role="img" aria-label={wordsOf('before', before)} title={wordsOf('before', before)}>
        <PlaceCrop place={at} cut={cut} />
      </span>
      <RecoloredCrop place={at} look={look} cut={cut} title={wordsOf('after', after)} />
    </span>
  );
}

function wordsOf(title: string, { fore, back }: WeighedPlace['before']): string {
  return `${title}: ${fore} on ${back}`;
}

function Patch({
  kind,
  label,
  look,
  title,
}: WeighedPlace & { readonly look: WeighedPlace['before']; readonly title: string }): JSX.Element {
  const words = wordsOf(title, look);
  return (
    <span class="bench-patch" style={{ backgroundColor: look.back, color: look.fore }} role="img" aria-label={words} title={words}>
      {kind === 'text' ? label.slice(0, 24) : <span class="bench-dot" style={{ backgroundColor: look.fore }} />}
    </span>
  );
}
