// The launch sheet on the screen and, printed, on paper: the same document as the file that `gloam gate --form sheet` writes.
import type { ComponentChildren, JSX } from 'preact';
import type { SheetDocument } from '../../api/launch.ts';
import { StackTable, Value } from '../parts/table.tsx';
import { href } from '../route.ts';
import { countText } from '../words.ts';

export function SheetView({ sheet, run }: { readonly sheet: SheetDocument; readonly run: string }): JSX.Element {
  const { more } = sheet;
  return (
    <article class="sheet" aria-labelledby="sheet-title">
      <header class="sheet-head">
        <div>
          <p class="quiet">Launch sheet</p>
          <h2 id="sheet-title" class="sheet-theme">
            {sheet.theme}
          </h2>
        </div>
        {sheet.notAsked.length > 0 && (
          <div class="sheet-not-asked">
            <p>Not asked:</p>
            <Lines items={sheet.notAsked} more={more.notAsked} />
          </div>
        )}
        <p class={sheet.may ? 'verdict verdict-may' : 'verdict'}>
          <svg viewBox="0 0 24 24" aria-hidden="true">
            <circle cx="12" cy="12" r="9" fill="none" stroke="currentColor" stroke-width="2.5" />
            {sheet.may ? (
              <circle cx="12" cy="12" r="5" fill="currentColor" />
            ) : (
              <path d="M3.5 12h17" stroke="currentColor" stroke-width="2.5" />
            )}
          </svg>
          <span>{sheet.headline}</span>
        </p>
      </header>
      <dl class="sheet-facts">
        {sheet.facts.map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd class="num">{value}</dd>
          </div>
        ))}
      </dl>
      {sheet.open.length > 0 && (
        <section aria-labelledby="sheet-open">
          <h3 id="sheet-open" class="sheet-open">
            Open, nearest first
          </h3>
          <StackTable name="Open criteria" caption="Open criteria" columns={['Criterion', 'Needed', 'Found']}>
            {sheet.open.map(({ name, needed, found, step, link }) => (
              <tr key={name} role="row" class="unmet">
                <th scope="row" role="rowheader">
                  {name}
                </th>
                <Value name="Needed">{needed}</Value>
                <Value name="Found">
                  {found}
                  <span class="sheet-step">{link === null ? step : <a href={addressOf(link, run)}>{step}</a>}</span>
                </Value>
              </tr>
            ))}
          </StackTable>
        </section>
      )}
      {sheet.holds.length > 0 && (
        <Part title="Holds">
          <ul class="sheet-holds">
            {sheet.holds.map(({ name, found, needed }) => (
              <li key={name}>
                <b>{name}</b> {found} <span class="quiet">(needed: {needed})</span>
              </li>
            ))}
          </ul>
        </Part>
      )}
      {sheet.causes.length > 0 && (
        <Part title="What lies behind the findings">
          <ul class="warnings">
            {sheet.causes.map(({ id, title, findings, why }) => (
              <li key={id}>
                <b>
                  <a href={href('causes', { run, cause: id })}>{title}</a>
                </b>{' '}
                {countText(findings, 'finding')}. {why}
              </li>
            ))}
            {more.causes > 0 && <li>{more.causes} more</li>}
          </ul>
        </Part>
      )}
      {sheet.exemptions.length > 0 && (
        <Part title="Exemptions">
          <StackTable name="Exemptions" caption="Exemptions" columns={['What', 'Why', 'Who answers', 'Until', 'Covers']}>
            {sheet.exemptions.map(({ scope, why, owner, until, covers, over }, index) => (
              <tr key={index} role="row" class={over ? 'unmet' : ''}>
                <th scope="row" role="rowheader">
                  <code class="breaks">{scope}</code>
                </th>
                <Value name="Why">{why}</Value>
                <Value name="Who answers">{owner}</Value>
                <Value name="Until">{until}</Value>
                <Value name="Covers">{covers}</Value>
              </tr>
            ))}
          </StackTable>
          {more.exemptions > 0 && <p class="quiet">{more.exemptions} more: gloam exempt lists them all.</p>}
        </Part>
      )}
      {sheet.warnings.length > 0 && (
        <Part title="Mind">
          <Lines items={sheet.warnings} more={more.warnings} />
        </Part>
      )}
      <Part title="Signed for">
        <table class="table sign-off">
          <thead>
            <tr>
              {['Part', 'Name', 'Date', 'Signature'].map((name, index) => (
                <th scope="col" key={name}>
                  {index === 0 ? <span class="unseen">{name}</span> : name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {sheet.signOff.map((part) => (
              <tr key={part}>
                <th scope="row">{part}</th>
                <td />
                <td />
                <td />
              </tr>
            ))}
          </tbody>
        </table>
      </Part>
      <footer class="quiet">{sheet.foot}</footer>
    </article>
  );
}

function Part({ title, children }: { readonly title: string; readonly children: ComponentChildren }): JSX.Element {
  return (
    <section aria-label={title}>
      <h3>{title}</h3>
      {children}
    </section>
  );
}

function Lines({ items, more }: { readonly items: readonly string[]; readonly more: number }): JSX.Element {
  return (
    <ul class="warnings">
      {items.map((item) => (
        <li key={item}>{item}</li>
      ))}
      {more > 0 && <li>{more} more</li>}
    </ul>
  );
}

function addressOf(link: NonNullable<SheetDocument['open'][number]['link']>, run: string): string {
  if (link.kind === 'cause') return href('causes', { run, cause: link.id });
  const { page, state, viewport } = link.at ?? { page: undefined, state: undefined, viewport: undefined };
  return href('page', { run, page, state, viewport, finding: link.kind === 'finding' ? link.id : undefined });
}
