// What was measured at a finding's place: the text as it looks, found beside needed, every theme, and the tokens that drew it.
import type { JSX } from 'preact';
import type { Finding, JudgedSample } from '../../api/findings.ts';
import { nameChain } from '../../../src/samples/name-chain.ts';
import type { Paint } from '../../../src/samples/paint.ts';
import type { Sample } from '../../../src/samples/sample.ts';
import { Swatch } from '../parts/bits.tsx';
import { measureText, ratioText, sentence } from '../words.ts';

/** The text itself, in its own colours and weight. */
export function Specimen({ sample }: { readonly sample: Extract<Sample, { kind: 'text' }> }): JSX.Element {
  return (
    <p
      class="specimen"
      style={{
        color: sample.color,
        backgroundColor: sample.background,
        fontSize: `${Math.min(40, sample.fontSize)}px`,
        fontWeight: sample.fontWeight,
      }}
    >
      {sample.text}
    </p>
  );
}

export function Measures({ finding }: { readonly finding: Finding }): JSX.Element {
  const names = [...new Set([...Object.keys(finding.measured), ...Object.keys(finding.expected)])];
  return (
    <table class="table measures">
      <thead>
        <tr>
          <th scope="col">Measure</th>
          <th scope="col">Found</th>
          <th scope="col">Needed</th>
        </tr>
      </thead>
      <tbody>
        {names.map((name) => (
          <tr key={name}>
            <th scope="row">{sentence(name)}</th>
            <td>{measured(name, finding.measured[name])}</td>
            <td>{measured(name, finding.expected[name])}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function measured(name: string, value: number | string | undefined): JSX.Element {
  if (value === undefined) return <span class="quiet">–</span>;
  if (typeof value === 'string' && /^(#|rgb|oklch|oklab|color\()/.test(value)) return <Swatch color={value} />;
  return <span class="num">{measureText(name, value)}</span>;
}

/** One line a theme: the two colours that meet, and what was found. */
export function InThemes({
  samples,
  themes,
  here,
}: {
  readonly samples: Readonly<Record<string, JudgedSample>>;
  readonly themes: readonly string[];
  readonly here: string;
}): JSX.Element {
  return (
    <table class="table in-themes">
      <caption>This place in every theme</caption>
      <tbody>
        {themes.map((theme) => {
          const sample = samples[theme];
          if (sample === undefined) return null;
          const { front, back, value, verdict } = pair(sample);
          return (
            <tr key={theme} class={theme === here ? 'here' : ''}>
              <th scope="row">{theme}</th>
              <td>
                {front !== undefined && back !== undefined && (
                  <span class="pair" style={{ color: front, backgroundColor: back }} title={`${front} on ${back}`}>
                    {sample.kind === 'text' ? 'Aa' : '■'}
                  </span>
                )}
              </td>
              <td class="num">{value}</td>
              <td>{verdict}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function pair(sample: JudgedSample): {
  readonly front?: string;
  readonly back?: string;
  readonly value: string;
  readonly verdict: string;
} {
  const verdict = sample.judged?.verdict ?? '';
  switch (sample.kind) {
    case 'text':
      return { front: sample.color, back: sample.background, value: ratioText(sample.contrast.min), verdict };
    case 'graphic':
      return { front: sample.color, back: sample.against, value: ratioText(sample.contrast), verdict };
    case 'surface':
      return {
        front: sample.color,
        back: sample.around,
        value: `L* ${sample.lightness.toFixed(1)} on ${sample.aroundLightness.toFixed(1)}`,
        verdict: sample.tone,
      };
    case 'shadow':
      return {
        front: sample.color,
        back: sample.beneath,
        value: `L* ${sample.lightnessGain > 0 ? '+' : ''}${sample.lightnessGain.toFixed(1)}`,
        verdict: sample.property,
      };
    case 'picture':
      return { value: sample.medium, verdict: sample.filters.map(({ filter }) => filter).join(' ') };
  }
}

/** Which tokens the colours of the place were drawn with, top layer first. */
export function Origins({ sample }: { readonly sample: Sample }): JSX.Element | null {
  const paints: { readonly name: string; readonly paint: Paint }[] = [];
  if (sample.kind === 'text') paints.push({ name: 'text', paint: sample.ink });
  else if (sample.kind !== 'picture')
    paints.push({ name: sample.kind === 'graphic' ? sample.role : sample.kind, paint: sample.paint });
  if ('layers' in sample) {
    for (const layer of [...sample.layers].reverse())
      if (layer.paint !== undefined) paints.push({ name: layer.selector ?? 'canvas', paint: layer.paint });
  }
  if (paints.length === 0) return null;
  return (
    <table class="table origins">
      <caption>Where the colours come from</caption>
      <tbody>
        {paints.map(({ name, paint }, index) => (
          <tr key={index}>
            <th scope="row">
              <code>{name}</code>
              <span class="quiet">{paint.property}</span>
            </th>
            <td>
              <Swatch color={paint.color} />
            </td>
            <td>{originText(paint)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function originText({ origin }: Paint): string {
  switch (origin.kind) {
    case 'token':
      return `${nameChain(origin).join(' → ')}${origin.alpha < 1 ? ` at ${Math.round(origin.alpha * 100)} %` : ''}`;
    case 'derived':
      return `made from ${origin.properties.length === 0 ? 'custom properties' : origin.properties.join(', ')}`;
    case 'inferred':
      return `fits ${origin.token}`;
    case 'literal':
      return 'a literal';
    case 'system':
      return 'the browser’s own';
    case 'unknown':
      return `not traced: ${origin.why}`;
  }
}
