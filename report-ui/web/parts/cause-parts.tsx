// How a cause is put into words: its title, the chain from the pixel to the ramp, and the repair.
import type { JSX } from 'preact';
import type { RankedCause } from '../../api/findings.ts';
import { href } from '../route.ts';
import { LAYER_WORDS, changeText, countText } from '../words.ts';
import { Swatch } from './bits.tsx';

/** What the fault is about, or the layer's name when nothing more is known. */
export function causeSubject({ subject, layer }: RankedCause): string {
  return subject ?? LAYER_WORDS[layer].noun;
}

export function Layer({ layer }: { readonly layer: RankedCause['layer'] }): JSX.Element {
  return <span class={`layer layer-${layer}`}>{LAYER_WORDS[layer].noun}</span>;
}

/** @param run with it, tokens lead to their pages */
export function Chain({ chain, run }: { readonly chain: RankedCause['chain']; readonly run?: string }): JSX.Element {
  return (
    <ol class="chain">
      {chain.map((link, index) => (
        <li key={index}>
          <span class="chain-name">
            {run !== undefined && link.token !== undefined && link.property === undefined ? (
              <a href={href('token', { run, token: link.token })}>
                <code>{link.token}</code>
              </a>
            ) : (
              <code>{link.property ?? link.token ?? 'literal'}</code>
            )}
            {link.file !== undefined && (
              <span class="chain-place">
                {link.file}
                {link.line === undefined ? '' : `:${String(link.line)}`}
              </span>
            )}
          </span>
          <Swatch color={link.value} />
        </li>
      ))}
    </ol>
  );
}

/** What to write so that a colour built from custom properties becomes the one above. */
function componentsOf(repair: NonNullable<RankedCause['repair']>): readonly Record<'of' | 'from' | 'to', string>[] {
  const components = repair.change === 'value' ? (repair.components ?? []) : [];
  return components.map(({ property, from, to }) => ({ of: `${property}:`, from, to }));
}

export function RepairNote({ layer, repair }: Parameters<typeof changeText>[0]): JSX.Element {
  return (
    <div class="repair">
      <p class="repair-title">{changeText({ layer, repair })}</p>
      {[repair, ...(repair.also ?? []), ...componentsOf(repair)].map(({ of, from, to }) => (
        <p class="repair-change" key={of}>
          <code>{of}</code>
          <span class="repair-swap">
            {from !== '' && <Swatch color={from} />}
            <span aria-label="becomes">→</span>
            <Swatch color={to} />
          </span>
        </p>
      ))}
      {repair.after !== undefined && (
        <p class="repair-effect">
          Comes after the repair of {repair.after.map((id) => `cause ${id}`).join(', ')}: without it, it would mend less or break
          more.
        </p>
      )}
      <p class="repair-effect">
        Mends <b>{repair.fixes.toLocaleString('en')}</b>, breaks <b>{repair.breaks.toLocaleString('en')}</b> on the stored samples
        {repair.themes.length > 0 && <> · {repair.themes.join(', ')}</>}
      </p>
    </div>
  );
}

export function reachText(cause: RankedCause): string {
  // What the token files alone show is on no page.
  const where = cause.pages === 0 ? 'in the token files, for' : `on ${countText(cause.pages, 'page')} in`;
  return `${countText(cause.findings, 'finding')} ${where} ${cause.themes.join(', ')}`;
}
