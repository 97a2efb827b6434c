// All about one finding: its evidence, the cause and the repair, the place, and the way to its neighbours.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Evidence, Finding } from '../../api/findings.ts';
import type { Run } from '../../api/runs.ts';
import { LevelMark, StatusMark } from '../parts/bits.tsx';
import { Chain, Layer, RepairNote, causeSubject } from '../parts/cause-parts.tsx';
import { Button } from '../parts/choice.tsx';
import { CheckName } from '../parts/glyph.tsx';
import { href } from '../route.ts';
import { siteForm } from '../site-files.ts';
import { askOnce, useAnswer } from '../use-answer.ts';
import { InThemes, Measures, Origins, Specimen } from './finding-evidence.tsx';

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

function CausePart({ run, id }: { readonly run: Run; readonly id: string }): JSX.Element | null {
  const cause = useAnswer('cause', { params: { run: run.id }, query: { id } }).value;
  if (cause === undefined) return null;
  return (
    <div class="detail-cause">
      <h3>
        Cause: <Layer layer={cause.layer} /> <a href={href('causes', { run: run.id, cause: id })}>{causeSubject(cause)}</a>
      </h3>
      <p>{cause.why}</p>
      {cause.chain.length > 0 && <Chain chain={cause.chain} run={run.id} />}
      {cause.repair !== undefined && <RepairNote layer={cause.layer} repair={cause.repair} />}
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
