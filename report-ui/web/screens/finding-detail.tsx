// All about one finding: what was measured, how the place looks in every theme, where its colours come from, the cause and the repair.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Evidence, Finding } from '../../api/findings.ts';
import type { Run } from '../../api/runs.ts';
import type { Paint } from '../../../src/samples/paint.ts';
import type { Sample } from '../../../src/samples/sample.ts';
import { LevelMark, StatusMark, Swatch } from '../parts/bits.tsx';
import { Chain, Layer, RepairNote, causeSubject } from '../parts/cause-parts.tsx';
import { Button } from '../parts/choice.tsx';
import { CheckName } from '../parts/glyph.tsx';
import { href } from '../route.ts';
import { siteForm } from '../site-files.ts';
import { askOnce, useAnswer } from '../use-answer.ts';
import { measureText, ratioText, sentence } from '../words.ts';

interface DetailProps {
  readonly run: Run;
  readonly finding: Finding;
  /** In list order, for the way to the neighbours. */
  readonly findings: readonly Finding[];
  readonly onChoose: (id: string | undefined) => void;
}

export function FindingDetail({ run, finding, findings, onChoose }: DetailProps): JSX.Element {
  const samples = useEvidence(run.id, finding);
  const at = findings.findIndex(({ id }) => id === finding.id);
  const sample = samples?.[finding.theme];
  return (
    <section class="detail" aria-label="The chosen finding">
      <header class="detail-head">
        <h2>
          <CheckName check={finding.check} />
        </h2>
        <LevelMark level={finding.level} />
        <StatusMark status={finding.status} />
        <span class="detail-ways">
          <Button
            kind="quiet"
            label="Finding before"
            disabled={at <= 0}
            onClick={() => {
              onChoose(findings[at - 1]?.id);
            }}
          >
            ↑
          </Button>
          <Button
            kind="quiet"
            label="Next finding"
            disabled={at >= findings.length - 1}
            onClick={() => {
              onChoose(findings[at + 1]?.id);
            }}
          >
            ↓
          </Button>
          <Button
            kind="quiet"
            label="Close"
            onClick={() => {
              onChoose(undefined);
            }}
          >
            ×
          </Button>
        </span>
      </header>
      <p class="detail-message">{finding.message}</p>
      {sample?.kind === 'text' && <Specimen sample={sample} />}
      <Measures finding={finding} />
      {samples !== null && <InThemes samples={samples} themes={run.themes.map(({ name }) => name)} here={finding.theme} />}
      {sample !== undefined && <Origins sample={sample} />}
      {finding.cause !== null && <CausePart run={run} id={finding.cause} />}
      <Place run={run} finding={finding} />
    </section>
  );
}

/** The samples of the finding's place, by theme. From disk they come in pages, which are read until the place turns up. */
function useEvidence(run: string, { page, state, viewport, key }: Finding): Evidence['places'][number]['samples'] | null {
  const [samples, setSamples] = useState<Evidence['places'][number]['samples'] | null>(null);
  useEffect(() => {
    let current = true;
    const find = async (): Promise<void> => {
      let after: string | undefined;
      do {
        const answer = await askOnce(
          'evidence',
          { run },
          { page, state, viewport, ...(siteForm() ? {} : { key }), ...(after === undefined ? {} : { after }) },
        );
        const place = answer.places.find((candidate) => candidate.key === key);
        if (place !== undefined && current) setSamples(place.samples);
        after = place === undefined ? (answer.next ?? undefined) : undefined;
      } while (after !== undefined && current);
    };
    find().catch(() => undefined); // the rest of the detail stands without it
    return () => {
      current = false;
    };
  }, [run, page, state, viewport, key]);
  return samples;
}

/** The text itself, in its own colours and weight. */
function Specimen({ sample }: { readonly sample: Extract<Sample, { kind: 'text' }> }): JSX.Element {
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

function Measures({ finding }: { readonly finding: Finding }): JSX.Element {
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
function InThemes({
  samples,
  themes,
  here,
}: {
  readonly samples: Readonly<Record<string, Sample>>;
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

function pair(sample: Sample): {
  readonly front?: string;
  readonly back?: string;
  readonly value: string;
  readonly verdict: string;
} {
  switch (sample.kind) {
    case 'text':
      return { front: sample.color, back: sample.background, value: ratioText(sample.contrast.min), verdict: sample.verdict };
    case 'graphic':
      return { front: sample.color, back: sample.against, value: ratioText(sample.contrast), verdict: sample.verdict };
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
function Origins({ sample }: { readonly sample: Sample }): JSX.Element | null {
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
      return `${origin.property}${origin.step === undefined ? '' : ` → ${origin.step}`}${origin.alpha < 1 ? ` at ${Math.round(origin.alpha * 100)} %` : ''}`;
    case 'derived':
      return `made from ${origin.properties.join(', ')}`;
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

function CausePart({ run, id }: { readonly run: Run; readonly id: string }): JSX.Element | null {
  const cause = useAnswer('cause', { params: { run: run.id }, query: { id } }).value;
  if (cause === undefined) return null;
  return (
    <div class="detail-cause">
      <h3>
        Cause: <Layer layer={cause.layer} /> <a href={href('causes', { run: run.id, cause: id })}>{causeSubject(cause)}</a>
      </h3>
      <p>{cause.why}</p>
      {cause.chain.length > 0 && <Chain chain={cause.chain} />}
      {cause.repair !== undefined && <RepairNote repair={cause.repair} />}
    </div>
  );
}

function Place({ run, finding }: { readonly run: Run; readonly finding: Finding }): JSX.Element {
  const [x, y, width, height] = finding.rect.map((value) => Math.round(value));
  return (
    <dl class="facts">
      <dt>Element</dt>
      <dd>
        <code class="breaks">{finding.selector}</code> <Copy text={finding.selector} />
      </dd>
      <dt>At</dt>
      <dd class="num">
        {x}, {y} · {width} × {height} px
      </dd>
      <dt>First seen</dt>
      <dd>{finding.since === run.id ? 'in this run' : finding.since}</dd>
      {finding.owner !== undefined && (
        <>
          <dt>Owner</dt>
          <dd>{finding.owner}</dd>
        </>
      )}
      <dt>Finding</dt>
      <dd>
        <code class="breaks">{finding.id}</code> <Copy text={finding.id} />
      </dd>
    </dl>
  );
}

function Copy({ text }: { readonly text: string }): JSX.Element {
  const [done, setDone] = useState(false);
  const timer = useRef(0);
  return (
    <Button
      kind="quiet"
      onClick={() => {
        navigator.clipboard.writeText(text).then(
          () => {
            setDone(true);
            clearTimeout(timer.current);
            timer.current = setTimeout(() => {
              setDone(false);
            }, 1500);
          },
          () => undefined, // without leave to write, the text can still be marked by hand
        );
      }}
    >
      {done ? 'copied' : 'copy'}
    </Button>
  );
}
