// The whole sheet: what is wrong, ramps with their plots and tables, every colour with its contrast, pairs of ink and surface.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SheetColor, SheetFault, SheetPair, TokenSheet } from '../api/token-sheet.ts';
import { LevelMark } from '../web/parts/bits.tsx';
import { StackTable, TableHead, Value } from '../web/parts/table.tsx';
import { RampSheet } from '../web/screens/ramps.tsx';
import { countText, ratioText } from '../web/words.ts';
import { Distances } from './distances.tsx';

export function Sheet({ sheet }: { readonly sheet: TokenSheet }): JSX.Element {
  const { ramps, colors, pairs, distances, faults, themes, about, reference } = sheet;
  return (
    <main class="sheet">
      <h1>Tokens</h1>
      <nav class="sheet-nav" aria-label="Parts of this page">
        <a href="#faults">Faults ({faults.length.toLocaleString('en')})</a>
        <a href="#ramps">Ramps ({ramps.length.toLocaleString('en')})</a>
        <a href="#colours">Colours ({colors.length.toLocaleString('en')})</a>
        <a href="#pairs">Pairs ({pairs.length.toLocaleString('en')})</a>
        {distances.length > 0 && <a href="#distances">Steps apart</a>}
      </nav>
      {about.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p class="quiet">
        Themes: {themes.join(', ')}; the others are compared with {reference}.
      </p>
      <section id="faults">
        <h2>Faults</h2>
        <Faults faults={faults} />
      </section>
      <section id="ramps">
        <h2>Ramps</h2>
        {ramps.length === 0 && <p class="quiet">No ramp is told from the aliases, and none is configured.</p>}
        {ramps.map((ramp, index) => (
          <Fold key={ramp.name} title={`${ramp.name}, ${countText(ramp.themes[0]?.steps.length ?? 0, 'step')}`} open={index < 12}>
            {() => <RampSheet ramp={ramp} />}
          </Fold>
        ))}
      </section>
      <section id="colours">
        <h2>Colours</h2>
        <p class="quiet">
          Contrast on white / on black below each colour; a translucent one as seen there. Places are those that use the token by
          its own name; those of the tokens on it stand with these.
        </p>
        {groupsOf(colors).map(([group, list]) => (
          <Fold key={group} title={`${group} (${list.length.toLocaleString('en')})`} open={colors.length <= 400}>
            {() => <Colors group={group} colors={list} themes={themes} />}
          </Fold>
        ))}
      </section>
      <section id="pairs">
        <h2>Pairs</h2>
        <Pairs pairs={pairs} themes={themes} />
      </section>
      {distances.length > 0 && (
        <section id="distances">
          <h2>Steps apart</h2>
          <p class="quiet">
            How many places apart in their ramps two steps must stand so that every two of them reach 3 / 4.5 / 7 to 1; – where no
            distance does.
          </p>
          <Fold title={countText(distances.length, 'pair of ramps', 'pairs of ramps')} open={distances.length <= 60}>
            {() => <Distances distances={distances} themes={themes} />}
          </Fold>
        </section>
      )}
    </main>
  );
}

/** Made only when opened: sets may have tens of thousands of colours. */
function Fold({
  title,
  open,
  children,
}: {
  readonly title: string;
  readonly open: boolean;
  readonly children: () => JSX.Element;
}): JSX.Element {
  const [isOpen, setOpen] = useState(open);
  return (
    <details
      class="sheet-fold"
      open={isOpen}
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>{title}</summary>
      {isOpen && children()}
    </details>
  );
}

function Faults({ faults }: { readonly faults: readonly SheetFault[] }): JSX.Element {
  if (faults.length === 0) return <p>None. What was judged, and what was not there to be judged, stands above.</p>;
  return (
    <StackTable name="Faults" caption="Faults, most severe first" columns={['Level', 'Token', 'What is wrong', 'Themes', 'Place']}>
      {faults.map(({ level, what, token, message, themes, place }, index) => (
        <tr key={index} role="row">
          <Value name="Level">
            <LevelMark level={level} />
          </Value>
          <th scope="row" role="rowheader" class="sheet-token">
            {token}
          </th>
          <Value name="What is wrong" class="sheet-message">
            {message} <span class="quiet">{what}</span>
          </Value>
          <Value name="Themes">{themes.join(', ')}</Value>
          <Value name="Place">
            <code class="breaks">{place}</code>
          </Value>
        </tr>
      ))}
    </StackTable>
  );
}

function groupsOf(colors: readonly SheetColor[]): readonly (readonly [string, readonly SheetColor[]])[] {
  const groups = new Map<string, SheetColor[]>();
  for (const color of colors) {
    const name = color.token.split(/[.]/)[0] ?? '';
    const known = groups.get(name);
    if (known === undefined) groups.set(name, [color]);
    else known.push(color);
  }
  return [...groups];
}

function Colors({
  group,
  colors,
  themes,
}: {
  readonly group: string;
  readonly colors: readonly SheetColor[];
  readonly themes: readonly string[];
}): JSX.Element {
  return (
    <div class="scroll-x" tabIndex={0} role="group" aria-label={`Colours of ${group}`}>
      <table class="table sheet-colors">
        <caption class="unseen">Colours of {group} in every theme</caption>
        <TableHead columns={['Token', ...themes, { num: 'Places' }, { num: 'Tokens on it' }]} />
        <tbody>
          {colors.map(({ token, themes: cells, uses, users }) => (
            <tr key={token}>
              <th scope="row" class="sheet-token">
                {token}
              </th>
              {cells.map((cell, index) => (
                <td key={themes[index]}>
                  {cell === null ? (
                    <span class="quiet">none</span>
                  ) : (
                    <span class="sheet-cell">
                      <span class="sheet-chip" style={{ backgroundColor: cell.color }} aria-hidden="true" />
                      <code>{cell.color}</code>
                      <span class="sheet-ratios">
                        {ratioText(cell.onWhite)} / {ratioText(cell.onBlack)}
                      </span>
                      {cell.step !== undefined && <span class="quiet sheet-step">{cell.step}</span>}
                    </span>
                  )}
                </td>
              ))}
              <td class="num">{uses === null ? '–' : uses.toLocaleString('en')}</td>
              <td class="num">{users.toLocaleString('en')}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Pairs({ pairs, themes }: { readonly pairs: readonly SheetPair[]; readonly themes: readonly string[] }): JSX.Element {
  if (pairs.length === 0)
    return (
      <p class="quiet">
        Which ink lies on which surface is declared in the configuration (<code>tokens.pairs</code>) or learnt from runs. None is
        declared, and no run is stored or none used tokens for both.
      </p>
    );
  return (
    <StackTable
      name="Pairs"
      caption="Contrast of each ink on each surface, in every theme"
      columns={['Ink', 'Surface', 'Told by', { num: 'Needed' }, ...themes]}
    >
      {pairs.map(({ ink, surface, required, uses, declared, themes: cells }) => (
        <tr key={`${ink} ${surface}`} role="row">
          <th scope="row" role="rowheader" class="sheet-token">
            {ink}
          </th>
          <Value name="Surface" class="sheet-token">
            {surface}
          </Value>
          <Value name="Told by">
            {[...(declared === null ? [] : ['declared']), ...(uses === 0 ? [] : [countText(uses, 'place')])].join(', ')}
          </Value>
          <Value name="Needed" class="num">
            {ratioText(required)}
          </Value>
          {cells.map((cell, index) => (
            <Value key={themes[index]} name={themes[index] ?? ''}>
              {cell.verdict === 'unknown' ? (
                <span class="quiet" title={cell.why}>
                  cannot tell
                </span>
              ) : (
                <span class="sheet-cell">
                  <span class="sheet-sample" style={{ backgroundColor: cell.surface, color: cell.ink }} aria-hidden="true">
                    Ag
                  </span>
                  <span class={cell.verdict === 'fail' ? 'sheet-fails' : ''}>
                    {ratioText(cell.contrast)}
                    {cell.verdict === 'fail' && ' too low'}
                  </span>
                </span>
              )}
            </Value>
          ))}
        </tr>
      ))}
    </StackTable>
  );
}
