// Small pieces of many screens: levels, freshness, swatches, counts, notices.
import type { ComponentChildren, JSX } from 'preact';
import type { Finding } from '../../api/findings.ts';
import type { Asking } from '../use-answer.ts';
import { Refusal } from '../client.ts';
import { forgetAnswers } from '../use-answer.ts';

/** A level as a word with one, two or three waterlines. */
export function LevelMark({ level }: { readonly level: Finding['level'] }): JSX.Element {
  const lines = { error: 3, warning: 2, note: 1 }[level];
  return (
    <span class={`level level-${level}`}>
      <svg viewBox="0 0 14 12" aria-hidden="true">
        {[0, 1, 2].slice(0, lines).map((n) => (
          <path key={n} d={`M1 ${10 - n * 4}q1.5-2.4 3 0t3 0 3 0 3 0`} />
        ))}
      </svg>
      {level}
    </span>
  );
}

export function StatusMark({ status }: { readonly status: Finding['status'] }): JSX.Element | null {
  if (status === 'known') return <span class="status">known</span>;
  return <span class={`status status-${status}`}>{status}</span>;
}

export function Fresh({ count }: { readonly count: number }): JSX.Element | null {
  return count === 0 ? null : <span class="status status-new">{count.toLocaleString('en')} new</span>;
}

/** A colour with its notation. Anything else is shown as text alone. */
export function Swatch({ color, label }: { readonly color: string; readonly label?: string }): JSX.Element {
  return (
    <span class="swatch">
      {CSS.supports('color', color) && <span class="swatch-chip" style={{ backgroundColor: color }} aria-hidden="true" />}
      <code>{color}</code>
      {label !== undefined && <span class="swatch-label">{label}</span>}
    </span>
  );
}

export function Empty({ title, children }: { readonly title: string; readonly children?: ComponentChildren }): JSX.Element {
  return (
    <div class="empty">
      <p class="empty-title">{title}</p>
      {children}
    </div>
  );
}

/** What stands in place of a screen until its answer is there, or when there is none. */
export function Waiting({ asking, what }: { readonly asking: Asking<unknown>; readonly what: string }): JSX.Element | null {
  if (asking.state === 'ready') return null;
  if (asking.state === 'waiting') return <p class="waiting">Reading {what} …</p>;
  return <Failed error={asking.error} what={what} />;
}

/** An answer that did not come, with the way to ask again. */
export function Failed({ error, what }: { readonly error: Error; readonly what: string }): JSX.Element {
  return (
    <div class="empty" role="alert">
      <p class="empty-title">Could not read {what}.</p>
      <p>{error.message}</p>
      {error instanceof Refusal && <p>{error.hint}</p>}
      <p>
        <button type="button" class="button button-plain" onClick={forgetAnswers}>
          Try again
        </button>
      </p>
    </div>
  );
}

export function Figure({
  value,
  label,
  href,
}: {
  readonly value: string;
  readonly label: string;
  readonly href?: string;
}): JSX.Element {
  const inside = (
    <>
      <span class="figure-value">{value}</span>
      <span class="figure-label">{label}</span>
    </>
  );
  return href === undefined ? (
    <div class="figure">{inside}</div>
  ) : (
    <a class="figure" href={href}>
      {inside}
    </a>
  );
}
