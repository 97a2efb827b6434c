// Form controls: a labelled list to choose from, a switch, a group of options.
import type { ComponentChildren, JSX } from 'preact';
import { useId } from 'preact/hooks';

export interface Option {
  readonly value: string;
  readonly label: string;
}

interface ChoiceProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly Option[];
  readonly onChange: (value: string) => void;
  /** The label is kept for assistive technology only. */
  readonly quiet?: boolean;
}

export function Choice({ label, value, options, onChange, quiet = false }: ChoiceProps): JSX.Element {
  const id = useId();
  return (
    <span class="choice">
      <label for={id} class={quiet ? 'unseen' : ''}>
        {label}
      </label>
      <select
        id={id}
        value={value}
        onChange={(event) => {
          onChange(event.currentTarget.value);
        }}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
    </span>
  );
}

export function Switch(props: {
  readonly label: string;
  readonly on: boolean;
  readonly onChange: (on: boolean) => void;
}): JSX.Element {
  return (
    <label class="switch">
      <input
        type="checkbox"
        checked={props.on}
        onChange={(event) => {
          props.onChange(event.currentTarget.checked);
        }}
      />
      {props.label}
    </label>
  );
}

/** Options side by side, one of them chosen. */
export function Rail({ label, value, options, onChange }: ChoiceProps): JSX.Element {
  const group = useId();
  return (
    <fieldset class="rail">
      <legend class="unseen">{label}</legend>
      {options.map((option) => (
        <label key={option.value} class={option.value === value ? 'rail-item chosen' : 'rail-item'}>
          <input
            type="radio"
            name={group}
            class="unseen"
            checked={option.value === value}
            onChange={() => {
              onChange(option.value);
            }}
          />
          {option.label}
        </label>
      ))}
    </fieldset>
  );
}

interface ButtonProps {
  readonly onClick: () => void;
  readonly children: ComponentChildren;
  readonly kind?: 'main' | 'plain' | 'quiet';
  readonly disabled?: boolean;
  readonly label?: string;
  readonly pressed?: boolean;
}

export function Button({ onClick, children, kind = 'plain', disabled = false, label, pressed }: ButtonProps): JSX.Element {
  return (
    <button
      type="button"
      class={`button button-${kind}`}
      onClick={onClick}
      disabled={disabled}
      aria-label={label}
      aria-pressed={pressed}
    >
      {children}
    </button>
  );
}
