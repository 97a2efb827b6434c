// What an answer needs to be given: as little as can be, the first field focused, Enter sends, Escape closes.
import type { JSX } from 'preact';
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { AnswerWish, Look, Looks } from '../../api/queue.ts';
import type { Run } from '../../api/runs.ts';
import { countText } from '../words.ts';

export type Wish = AnswerWish;
export type Kind = AnswerWish['kind'];

interface FormProps {
  readonly kind: Kind;
  readonly run: Run;
  readonly cause: string;
  readonly looks: Looks;
  /** The one in sight: an exemption is for its place. */
  readonly look: Look | undefined;
  readonly canWrite: boolean;
  readonly onSend: (wish: Wish) => void;
}

export function AnswerForm(props: FormProps): JSX.Element {
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    form.current?.querySelector<HTMLElement>('select, input')?.focus();
  }, []);
  return (
    <form
      ref={form}
      class="queue-form"
      aria-label={props.kind === 'hand-on' ? 'Hand on' : props.kind === 'exempt' ? 'Exempt' : 'Intended'}
      onSubmit={(event) => {
        event.preventDefault();
        const wish = wishOf(props, new FormData(event.currentTarget));
        if (wish !== null) props.onSend(wish);
      }}
    >
      {props.kind === 'intended' ? (
        <Intended {...props} />
      ) : props.kind === 'exempt' ? (
        <Exempt {...props} />
      ) : (
        <HandOn {...props} />
      )}
    </form>
  );
}

function wishOf({ kind, run, cause, look }: FormProps, fields: FormData): Wish | null {
  const text = (name: string): string => {
    const value = fields.get(name);
    return typeof value === 'string' ? value.trim() : '';
  };
  const [page, theme, owner, until] = [text('page'), text('theme'), text('owner'), text('until')];
  const act = { run: run.id, cause };
  switch (kind) {
    case 'intended':
      return { ...act, kind, note: text('note'), ...(page === '' ? {} : { page }), ...(theme === '' ? {} : { theme }) };
    case 'hand-on':
      return { ...act, kind, owner, note: text('note') };
    case 'exempt':
      if (look === undefined) return null;
      return {
        ...act,
        kind,
        finding: look.here.finding.id,
        why: text('why'),
        ...(owner === '' ? {} : { owner }),
        ...(until === '' ? {} : { until }),
        any: (['page', 'theme', 'state'] as const).filter((part) => fields.get(part) !== null),
      };
  }
}

function Intended({ looks: { pictures } }: FormProps): JSX.Element {
  const [page, setPage] = useState('');
  const [theme, setTheme] = useState('');
  const names = (member: 'page' | 'theme'): readonly string[] => [...new Set(pictures.map((one) => one[member]))];
  const count = pictures
    .filter((one) => (page === '' || one.page === page) && (theme === '' || one.theme === theme))
    .reduce((sum, one) => sum + one.count, 0);
  if (pictures.length === 0)
    return (
      <p>
        No picture of these places differs from an accepted one, so there is none to accept. If this is right as it is, exempt it;
        if it is not, hand it on.
      </p>
    );
  return (
    <>
      <Picked name="page" label="Page" value={page} all="every page" names={names('page')} onChange={setPage} />
      <Picked name="theme" label="Theme" value={theme} all="every theme" names={names('theme')} onChange={setTheme} />
      <Field name="note" label="Note" placeholder="why this is right now" />
      <button type="submit" class="button button-main" disabled={count === 0}>
        Accept {countText(count, 'picture')}
      </button>
    </>
  );
}

function Exempt({ look, canWrite, run }: FormProps): JSX.Element {
  if (look === undefined) return <p>There is no place to exempt.</p>;
  const { selector, check, page, theme, state } = look.here.finding;
  return (
    <>
      <p class="queue-form-note">
        Exempts <code class="breaks">{selector}</code> from {check}
        {page.startsWith('(') ? '' : `, on ${page} in ${theme}, ${state}`}.{' '}
        {canWrite
          ? 'It is written into the configuration.'
          : 'The command to write it is shown: this server knows no configuration.'}
      </p>
      <Field name="why" label="Reason" required placeholder="shown wherever the exemption is" />
      <Field name="owner" label="Answers for it" list={run.owners} />
      <Field name="until" label="Until" type="date" />
      <span class="queue-any">
        {(['page', 'theme', 'state'] as const).map((part) => (
          <label key={part} class="switch">
            <input type="checkbox" name={part} /> any {part}
          </label>
        ))}
      </span>
      <button type="submit" class="button button-main">
        Exempt it
      </button>
    </>
  );
}

function HandOn({ run }: FormProps): JSX.Element {
  return (
    <>
      <Field name="owner" label="To" required list={run.owners} />
      <Field name="note" label="Note" placeholder="what they should know" />
      <button type="submit" class="button button-main">
        Hand it on
      </button>
    </>
  );
}

interface FieldProps {
  readonly name: string;
  readonly label: string;
  readonly required?: boolean;
  readonly placeholder?: string;
  readonly type?: 'text' | 'date';
  readonly list?: readonly string[];
}

function Field({ name, label, required = false, placeholder = '', type = 'text', list }: FieldProps): JSX.Element {
  const id = useId();
  return (
    <span class="choice">
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        type={type}
        required={required}
        placeholder={placeholder}
        maxLength={2_000}
        list={list === undefined ? undefined : `${id}-list`}
      />
      {list !== undefined && (
        <datalist id={`${id}-list`}>
          {list.map((value) => (
            <option key={value} value={value} />
          ))}
        </datalist>
      )}
    </span>
  );
}

function Picked(props: {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly all: string;
  readonly names: readonly string[];
  readonly onChange: (value: string) => void;
}): JSX.Element {
  const id = useId();
  return (
    <span class="choice">
      <label for={id}>{props.label}</label>
      <select
        id={id}
        name={props.name}
        value={props.value}
        onChange={(event) => {
          props.onChange(event.currentTarget.value);
        }}
      >
        <option value="">{props.all}</option>
        {props.names.map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </select>
    </span>
  );
}
