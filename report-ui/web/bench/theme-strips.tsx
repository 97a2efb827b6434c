// The steps in all themes as swatches; each can be chosen. What is changed shows what it was along its lower edge.
import type { JSX } from 'preact';
import { toCssText } from '../../../src/colour/format-color.ts';
import type { TableIndex } from '../../../src/triage/tokens/table-index.ts';

export function ThemeStrips({
  index,
  after,
  tokens,
  chosen,
  onChoose,
}: {
  readonly index: TableIndex;
  readonly after: TableIndex;
  readonly tokens: readonly string[];
  readonly chosen: { readonly token: string; readonly theme: string };
  readonly onChoose: (token: string, theme: string) => void;
}): JSX.Element {
  return (
    <div class="bench-strips">
      {index.table.themes.map(({ name }, theme) => (
        <div key={name} class="bench-strip" role="group" aria-label={`Steps in ${name}`}>
          <span class="bench-theme">{name}</span>
          {tokens.map((path) => {
            const [before, then] = [index.colorOf(theme, index.tokenAt(path)), after.colorOf(theme, after.tokenAt(path))];
            const [was, is] = [before, then].map((color) => (color === null ? '' : toCssText(color)));
            const isChosen = chosen.token === path && chosen.theme === name;
            const changed = was !== is ? `, was ${was ?? ''}` : '';
            return (
              <button
                key={path}
                type="button"
                class={isChosen ? 'bench-swatch bench-swatch-chosen' : 'bench-swatch'}
                aria-pressed={isChosen}
                aria-label={`${path} in ${name}: ${is ?? ''}${changed}`}
                title={`${path}: ${is ?? ''}${changed}`}
                style={{ backgroundColor: is ?? '' }}
                onClick={() => {
                  onChoose(path, name);
                }}
              >
                {was !== is && <span class="bench-was" style={{ backgroundColor: was ?? '' }} />}
              </button>
            );
          })}
        </div>
      ))}
    </div>
  );
}
