// The pictures of one page, a pane for each theme, all scrolled to the same place.
import type { JSX, RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../api/findings.ts';
import type { PageView } from '../../api/page.ts';
import { Loupe } from '../parts/loupe.tsx';
import type { Spot } from '../parts/loupe.tsx';
import { MarkSigns, Marks } from '../parts/marks.tsx';
import { Picture } from '../parts/picture.tsx';
import { useWidth } from '../parts/use-width.ts';
import type { Vision } from '../parts/vision.tsx';
import { countText } from '../words.ts';

/** Px of this page per CSS px of the page under test, or as wide as the pane. */
export type Zoom = 'fit' | number;

interface PanesProps {
  readonly page: string;
  readonly views: readonly PageView[];
  readonly findings: readonly Finding[];
  readonly chosen: Finding | null;
  readonly zoom: Zoom;
  readonly vision: Vision;
  readonly loupe: boolean;
  readonly marks: boolean;
  readonly scaled: boolean;
  readonly onChoose: (id: string) => void;
}

export function Panes(props: PanesProps): JSX.Element {
  const strip = useRef<HTMLDivElement>(null);
  const [spot, setSpot] = useState<Spot | null>(null);
  useSameScroll(strip, props.views.map(({ id }) => id).join('\n'));
  useShowChosen(strip, props.chosen);
  return (
    <div class={props.zoom === 'fit' ? 'panes panes-fit' : 'panes'} ref={strip}>
      <MarkSigns />
      {props.views.map((view) => (
        <Pane
          key={view.id}
          {...props}
          view={view}
          findings={props.findings.filter((finding) => finding.view === view.id)}
          spot={spot}
          onSpot={setSpot}
        />
      ))}
    </div>
  );
}

interface PaneProps extends Omit<PanesProps, 'views'> {
  readonly view: PageView;
  readonly spot: Spot | null;
  readonly onSpot: (spot: Spot) => void;
}

function Pane(props: PaneProps): JSX.Element {
  const { page, view, findings, chosen, vision, marks, scaled, loupe, spot, onSpot, onChoose } = props;
  const body = useRef<HTMLDivElement>(null);
  const width = useWidth(body);
  const zoom = props.zoom === 'fit' ? Math.max(0.05, width / Math.max(1, view.widthCssPx)) : props.zoom;
  const widthPx = Math.round(view.widthCssPx * zoom);
  const heightPx = Math.round(view.heightCssPx * zoom);
  const name = `${page}, ${view.theme}`;

  const point = (event: PointerEvent): void => {
    if (!loupe || !(event.currentTarget instanceof Element)) return;
    const box = event.currentTarget.getBoundingClientRect();
    onSpot({ x: (event.clientX - box.left) / zoom, y: (event.clientY - box.top) / zoom });
  };
  const step = (event: KeyboardEvent): void => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (!loupe || way === undefined) return;
    event.preventDefault();
    const stride = event.shiftKey ? 10 : 1;
    const old = spot ?? { x: view.widthCssPx / 2, y: (body.current?.scrollTop ?? 0) / zoom + 40 };
    onSpot({ x: old.x + (way[0] ?? 0) * stride, y: old.y + (way[1] ?? 0) * stride });
  };

  return (
    <section class={`pane${chosen?.view === view.id ? ' pane-chosen' : ''}`} aria-label={name}>
      <header class="pane-head">
        <h2>{view.theme}</h2>
        <span class="pane-count">{view.status === 'failed' ? 'failed' : countText(findings.length, 'finding')}</span>
      </header>
      {view.status === 'failed' || view.shot === null ? (
        <Missing view={view} />
      ) : (
        <>
          {/* Scrollable, so it must be reachable by keyboard. */}
          <div
            class="pane-body"
            ref={body}
            tabIndex={0}
            role="group"
            aria-label={`Picture of ${name}`}
            data-zoom={zoom}
            onKeyDown={step}
          >
            <div
              class={`picture vision-${vision}${loupe ? ' picture-aim' : ''}`}
              style={{ width: `${widthPx}px`, height: `${heightPx}px` }}
              onPointerMove={point}
            >
              <Picture
                hash={view.shot}
                widthPx={widthPx}
                alt={`${view.title === '' ? page : view.title}, as captured in ${view.theme}`}
                scaled={scaled}
              />
              {marks && (
                <Marks findings={findings} zoom={zoom} widthPx={widthPx} heightPx={heightPx} chosen={chosen} onChoose={onChoose} />
              )}
              {loupe && spot !== null && (
                <span class="aim" style={{ transform: `translate(${spot.x * zoom}px, ${spot.y * zoom}px)` }} />
              )}
            </div>
          </div>
          {loupe && <Loupe hash={view.shot} spot={spot} scale={view.scale} />}
        </>
      )}
    </section>
  );
}

function Missing({ view }: { readonly view: PageView }): JSX.Element {
  return (
    <div class="pane-missing">
      <p class="empty-title">No picture</p>
      <p>{view.error ?? 'This view was not captured.'}</p>
    </div>
  );
}

/** Scrolling one pane scrolls the others to the same place of the page. */
function useSameScroll(strip: RefObject<HTMLElement | null>, views: string): void {
  useEffect(() => {
    const panes = [...(strip.current?.querySelectorAll<HTMLElement>('.pane-body') ?? [])];
    const zoomOf = (pane: HTMLElement): number => Number(pane.dataset['zoom'] ?? '1');
    const follow = (event: Event): void => {
      const leader = panes.find((pane) => pane === event.currentTarget);
      if (leader === undefined) return;
      for (const pane of panes) {
        if (pane === leader) continue;
        const top = Math.round((leader.scrollTop / zoomOf(leader)) * zoomOf(pane));
        // A pane that was moved by this very function says so in an event of its own; it must not move the others back.
        if (Math.abs(pane.scrollTop - top) > 1) pane.scrollTop = top;
        if (Math.abs(pane.scrollLeft - leader.scrollLeft) > 1) pane.scrollLeft = leader.scrollLeft;
      }
    };
    for (const pane of panes) pane.addEventListener('scroll', follow, { passive: true });
    return () => {
      for (const pane of panes) pane.removeEventListener('scroll', follow);
    };
  }, [views]);
}

/** Brings the chosen place into sight, in the middle of its pane. */
function useShowChosen(strip: RefObject<HTMLElement | null>, chosen: Finding | null): void {
  useEffect(() => {
    if (chosen === null) return;
    const section = strip.current?.querySelector('.pane-chosen');
    const pane = section?.querySelector<HTMLElement>('.pane-body');
    if (section === null || section === undefined || pane === null || pane === undefined) return;
    const zoom = Number(pane.dataset['zoom'] ?? '1');
    const [x, y, width, height] = chosen.rect;
    section.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    pane.scrollTo({ top: (y + height / 2) * zoom - pane.clientHeight / 2, left: (x + width / 2) * zoom - pane.clientWidth / 2 });
  }, [chosen?.id]);
}
