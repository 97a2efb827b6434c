// A page as it would look beside the page as it is: rendered by the server with the proposal worn where somebody asks for it, else
// recoloured from the stored picture, and marked as such. Both with the same marks: of what is found there now.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Run } from '../../api/runs.ts';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import type { ViewRef } from '../../../src/samples/view.ts';
import { addressOf, here, Refusal } from '../client.ts';
import { Waiting } from '../parts/bits.tsx';
import { Button, Switch } from '../parts/choice.tsx';
import { Marks, MarkSigns } from '../parts/marks.tsx';
import { useWholePicture } from '../parts/picture.tsx';
import { useWidth } from '../parts/use-width.ts';
import { useAnswer } from '../use-answer.ts';
import { writeProposal } from './proposal-address.ts';
import { drawRecolored, pixelLooks } from './recolored.ts';

export interface PageAheadProps {
  readonly run: Run;
  readonly view: ViewRef;
  readonly changes: readonly ProposedChange[];
  /** The server may open the app. */
  readonly works: boolean;
}

type Rendered =
  | { readonly state: 'none' }
  | { readonly state: 'waiting' }
  | { readonly state: 'there'; readonly address: string }
  | { readonly state: 'failed'; readonly why: string };

export function PageAhead({ run, view, changes, works }: PageAheadProps): JSX.Element {
  const proposal = writeProposal(changes);
  const { page, theme, state, viewport } = view;
  const shots = useAnswer('benchShots', { params: { run: run.id }, query: { views: JSON.stringify([view.id]) } });
  const looks = useAnswer('benchLooks', { params: { run: run.id }, query: { view: view.id, changes: proposal } });
  const found = useAnswer('findings', { params: { run: run.id }, query: { page, theme, state, viewport } });
  const [marks, setMarks] = useState(true);
  const [rendered, setRendered] = useState<Rendered>({ state: 'none' });
  const asked = `${run.id} ${view.id} ${proposal}`;
  const current = useRef(asked);
  current.current = asked;
  useEffect(() => {
    setRendered({ state: 'none' });
  }, [asked]);
  const shot = shots.value?.shots[0];
  if (shots.value !== undefined && shot === undefined) return <p class="quiet">There is no picture of this view.</p>;
  if (shot === undefined) return <Waiting asking={shots} what="the picture" />;
  const render = (): void => {
    setRendered({ state: 'waiting' });
    renderedPicture(run.id, view.id, proposal).then(
      (address) => {
        if (current.current === asked) setRendered({ state: 'there', address });
      },
      (error: unknown) => {
        if (current.current === asked) setRendered({ state: 'failed', why: wordsOf(error) });
      },
    );
  };
  const about = {
    none: 'Recoloured from the stored picture: pictures, gradients and what no token paints stay as they are.',
    waiting: 'The server renders it …',
    there: 'Rendered on the app, with the proposal worn.',
    failed: `Recoloured from the stored picture. ${rendered.state === 'failed' ? rendered.why : ''}`,
  }[rendered.state];
  const marked = marks ? (found.value?.findings ?? []).filter(({ status }) => status !== 'exempt') : [];
  return (
    <section class="bench-part" aria-label={`${page} in ${theme}, today and as it would look`}>
      <h2>
        {page} in {theme}
      </h2>
      <div class="bench-tools">
        <Button kind="quiet" disabled={!works || rendered.state === 'waiting' || changes.length === 0} onClick={render}>
          Render it on the app
        </Button>
        <Switch label="Marks" on={marks} onChange={setMarks} />
        {!works && <span class="quiet">This report opens no app: it was started read-only, or knows none.</span>}
      </div>
      <MarkSigns />
      <div class="bench-pages">
        <Side title="Today" size={shot} findings={marked}>
          {(widthPx) => <Stored hash={shot.shot} widthPx={widthPx} alt={`${page} in ${theme}, as captured`} />}
        </Side>
        <Side title="As it would look" size={shot} findings={marked}>
          {(widthPx) =>
            rendered.state === 'there' ? (
              <img src={rendered.address} width={widthPx} alt={`${page} in ${theme}, rendered with the proposal`} />
            ) : (
              <RecoloredPage hash={shot.shot} scale={shot.scale} looks={looks.value?.looks ?? null} widthPx={widthPx} />
            )
          }
        </Side>
      </div>
      <p role="status" class={rendered.state === 'there' ? '' : 'bench-approximate'}>
        {about}
      </p>
    </section>
  );
}

function Side({
  title,
  size,
  findings,
  children,
}: {
  readonly title: string;
  readonly size: { readonly widthCssPx: number; readonly heightCssPx: number };
  readonly findings: Parameters<typeof Marks>[0]['findings'];
  readonly children: (widthPx: number) => JSX.Element;
}): JSX.Element {
  const body = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(body);
  const zoom = widthPx / Math.max(1, size.widthCssPx);
  const heightPx = Math.round(size.heightCssPx * zoom);
  return (
    <figure class="bench-side">
      <figcaption>{title}</figcaption>
      <div class="bench-page" ref={body} tabIndex={0} role="group" aria-label={title}>
        <div class="picture" style={{ width: `${widthPx}px`, height: `${heightPx}px` }}>
          {widthPx > 0 && children(widthPx)}
          {findings.length > 0 && (
            <Marks findings={findings} zoom={zoom} widthPx={widthPx} heightPx={heightPx} chosen={null} onChoose={() => undefined} />
          )}
        </div>
      </div>
    </figure>
  );
}

function Stored({ hash, widthPx, alt }: { readonly hash: string; readonly widthPx: number; readonly alt: string }): JSX.Element {
  const source = useWholePicture(hash);
  return source === '' ? <span class="picture-wait" /> : <img src={source} width={widthPx} alt={alt} />;
}

function RecoloredPage({
  hash,
  scale,
  looks,
  widthPx,
}: {
  readonly hash: string;
  readonly scale: number;
  readonly looks: Parameters<typeof pixelLooks>[0] | null;
  readonly widthPx: number;
}): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const source = useWholePicture(hash);
  useEffect(() => {
    if (canvas.current === null || source === '' || looks === null) return;
    drawRecolored(canvas.current, source, { looks: pixelLooks(looks, scale), from: { x: 0, y: 0 } }).catch(() => undefined);
  }, [source, looks]);
  return (
    <canvas
      ref={canvas}
      class="bench-canvas"
      style={{ width: `${widthPx}px` }}
      role="img"
      aria-label="The stored picture, recoloured"
      data-ready={looks === null ? undefined : String(looks.length)}
    />
  );
}

async function renderedPicture(run: string, view: string, changes: string): Promise<string> {
  const address = here(addressOf('benchLooks', { run }, { view, changes }).replace('/bench-looks', '/bench-picture'));
  const response = await fetch(address, { credentials: 'same-origin' });
  if (!response.ok) throw new Refusal((await response.json()) as ConstructorParameters<typeof Refusal>[0]);
  // It is kept there: the picture itself is asked for by its address.
  await response.arrayBuffer();
  return address;
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
