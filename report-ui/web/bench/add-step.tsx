// A step more in a ramp: behind the chosen one, half way to the next; declared wherever the chosen one is.
import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { toCssText } from '../../../src/colour/format-color.ts';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { ofPolar, polarOf } from '../../../src/forecast/steer-lightness.ts';
import type { TableIndex } from '../../../src/triage/tokens/table-index.ts';
import { Button } from '../parts/choice.tsx';

export function AddStep({
  index,
  token,
  next,
  onAdd,
}: {
  readonly index: TableIndex;
  readonly token: string;
  /** The step behind it; null at the end of the ramp. */
  readonly next: string | null;
  readonly onAdd: (changes: readonly ProposedChange[]) => void;
}): JSX.Element {
  const group = token.slice(0, token.lastIndexOf('.') + 1);
  const [name, setName] = useState(nameBetween(token, next));
  const path = `${group}${name.trim()}`;
  const wrong =
    name.trim() === '' || /[.{}$]/.test(name)
      ? 'A name without dots, braces and dollar signs.'
      : index.tokenAt(path) >= 0
        ? `${path} is there already.`
        : '';
  return (
    <form
      class="bench-type"
      aria-label="Add a step"
      onSubmit={(event) => {
        event.preventDefault();
        if (wrong === '') onAdd(stepBetween(index, { token, next, path }));
      }}
    >
      <label>
        Add a step behind <code>{token}</code>: <code>{group}</code>
        <input
          type="text"
          size={8}
          value={name}
          aria-invalid={wrong !== ''}
          onInput={(event) => {
            setName(event.currentTarget.value);
          }}
        />
      </label>
      <Button
        kind="quiet"
        disabled={wrong !== ''}
        onClick={() => {
          onAdd(stepBetween(index, { token, next, path }));
        }}
      >
        Add it
      </Button>
      {wrong !== '' && <span class="bench-worse">{wrong}</span>}
    </form>
  );
}

/** The middle of two numbers, else a name of its own. */
function nameBetween(token: string, next: string | null): string {
  const [one, other] = [token, next ?? ''].map((path) => path.slice(path.lastIndexOf('.') + 1));
  if (one === undefined || other === undefined || one === '' || !/^\d+$/.test(one)) return `${one ?? 'step'}-more`;
  return /^\d+$/.test(other) ? String(Math.round((Number(one) + Number(other)) / 2)) : String(Number(one) + 50);
}

/** One change for each declaration of the step it comes behind. */
function stepBetween(
  index: TableIndex,
  { token, next, path }: { readonly token: string; readonly next: string | null; readonly path: string },
): readonly ProposedChange[] {
  const at = index.tokenAt(token);
  const seen = new Set<number>();
  return index.table.themes.flatMap(({ name }, theme): ProposedChange[] => {
    if (seen.has(theme)) return [];
    for (const each of index.governedBy(theme, at)) seen.add(each);
    const [one, other] = [index.colorOf(theme, at), next === null ? null : index.colorOf(theme, index.tokenAt(next))];
    if (one === null) return [];
    const here = polarOf(one);
    const there = other === null ? { ...here, lightness: here.lightness * 0.9 } : polarOf(other);
    const color = ofPolar({
      ...here,
      lightness: (here.lightness + there.lightness) / 2,
      chroma: (here.chroma + there.chroma) / 2,
      hueDeg: middleHue(here, there),
    });
    return [{ token: path, theme: name, to: toCssText(color), beside: token }];
  });
}

/** The shorter way round; of two where one has no hue, the other's. */
function middleHue(one: { chroma: number; hueDeg: number }, other: { chroma: number; hueDeg: number }): number {
  if (one.chroma < 0.001) return other.hueDeg;
  if (other.chroma < 0.001) return one.hueDeg;
  const way = ((other.hueDeg - one.hueDeg + 540) % 360) - 180;
  return (one.hueDeg + way / 2 + 360) % 360;
}
