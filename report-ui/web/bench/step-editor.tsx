// One token in one theme: any CSS colour typed, or another token to point at. What the file says stands beside it.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { toCssText } from '../../../src/colour/format-color.ts';
import { findColor } from '../../../src/colour/parse-color.ts';
import type { TableIndex } from '../../../src/triage/tokens/table-index.ts';
import { Choice, Switch } from '../parts/choice.tsx';

export function StepEditor({
  index,
  after,
  token,
  theme,
  onChange,
  pinned,
  onPin,
}: {
  readonly index: TableIndex;
  readonly after: TableIndex;
  readonly token: string;
  readonly theme: string;
  readonly onChange: (to: string) => void;
  readonly pinned: boolean;
  readonly onPin: (pinned: boolean) => void;
}): JSX.Element {
  const [at, themeAt] = [index.tokenAt(token), index.themeAt(theme)];
  const now = index.definitionOf(themeAt, at);
  const then = after.definitionOf(themeAt, after.tokenAt(token));
  const color = after.colorOf(themeAt, after.tokenAt(token));
  const written = color === null ? '' : toCssText(color);
  const [typed, setTyped] = useState(written);
  useEffect(() => {
    setTyped(written);
  }, [written, token, theme]);
  const isWrong = findColor(typed) === null;
  const governed = index.governedBy(themeAt, at).map((each) => index.table.themes[each]?.name ?? '');
  const targets = index.table.tokens
    .filter((each, place) => place !== at && each.definitions[themeAt] !== null && !index.dependentsOf(themeAt, at).includes(place))
    .map(({ path }) => path);
  const here = then?.kind === 'alias' ? then.target : '';
  return (
    <section class="bench-part bench-editor" aria-label={`${token} in ${theme}`}>
      <h2>
        <code>{token}</code> in {theme}
      </h2>
      <p class="quiet">
        {now === null
          ? 'It does not exist in this theme.'
          : `${now.kind === 'alias' ? `Points at ${now.target}` : toCssText(now.color)}${now.declared.file === undefined ? '' : `, ${now.declared.file}${now.declared.line === undefined ? '' : `:${String(now.declared.line)}`}`}. Governs ${governed.join(', ')}.`}
      </p>
      <form
        class="bench-type"
        onSubmit={(event) => {
          event.preventDefault();
          if (!isWrong) onChange(typed.trim());
        }}
      >
        <label>
          Colour{' '}
          <input
            type="text"
            value={typed}
            spellcheck={false}
            aria-invalid={isWrong}
            onInput={(event) => {
              setTyped(event.currentTarget.value);
            }}
            onBlur={() => {
              if (!isWrong && typed.trim() !== written) onChange(typed.trim());
            }}
          />
        </label>
        <span class="bench-dot" style={{ backgroundColor: isWrong ? 'transparent' : typed }} aria-hidden="true" />
        {isWrong && <span class="bench-worse">Any CSS colour is understood; this is none.</span>}
      </form>
      <Choice
        label="Points at"
        value={here}
        options={[{ value: '', label: 'nothing: a colour of its own' }, ...targets.map((path) => ({ value: path, label: path }))]}
        onChange={(path) => {
          onChange(path === '' ? written : `{${path}}`);
        }}
      />
      <Switch label="Pin it: solving leaves it as the files have it" on={pinned} onChange={onPin} />
    </section>
  );
}
