// Marks on a picture: an outline with the line pattern of its check and a plate with its sign. Drawn twice, light under dark, so that
// they can be seen on any picture. Keyboards and screen readers use the list beside the pictures.
import type { JSX } from 'preact';
import { memo } from 'preact/compat';
import type { Finding } from '../../api/findings.ts';
import { SignPaths, useCheck } from './glyph.tsx';

/** Room between the place and its outline, and the side of a plate, CSS px of this page; smaller on small pictures. */
const LARGE = { air: 3, plate: 18 } as const;
const SMALL = { air: 1.5, plate: 11 } as const;
/** Below this zoom a picture is small. */
const SMALL_ZOOM = 0.3;
/** Outlines smaller than this could not be hit. */
const LEAST = 8;

interface MarksProps {
  readonly findings: readonly Finding[];
  /** Px of this page per CSS px of the picture. */
  readonly zoom: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly chosen: string | null;
  readonly onChoose: (id: string) => void;
}

export function Marks({ findings, zoom, widthPx, heightPx, chosen, onChoose }: MarksProps): JSX.Element {
  const largestFirst = [...findings].sort((a, b) => b.rect[2] * b.rect[3] - a.rect[2] * a.rect[3]);
  const last = largestFirst.find(({ id }) => id === chosen);
  const order = last === undefined ? largestFirst : [...largestFirst.filter((finding) => finding !== last), last];
  return (
    <svg
      class={zoom < SMALL_ZOOM ? 'marks marks-small' : 'marks'}
      width={widthPx}
      height={heightPx}
      aria-hidden="true"
      onClick={(event) => {
        const id = event.target instanceof Element ? event.target.closest('[data-finding]')?.getAttribute('data-finding') : null;
        if (id !== null && id !== undefined) onChoose(id);
      }}
    >
      {order.map((finding) => (
        <Mark key={finding.id} finding={finding} zoom={zoom} widthPx={widthPx} heightPx={heightPx} chosen={finding.id === chosen} />
      ))}
    </svg>
  );
}

interface MarkProps {
  readonly finding: Finding;
  readonly zoom: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly chosen: boolean;
}

const Mark = memo(function Mark({ finding, zoom, widthPx, heightPx, chosen }: MarkProps): JSX.Element {
  const { title, dash } = useCheck(finding.check);
  const [x, y, width, height] = finding.rect;
  const { air, plate } = zoom < SMALL_ZOOM ? SMALL : LARGE;
  const box = {
    x: x * zoom - air,
    y: y * zoom - air,
    width: Math.max(LEAST, width * zoom + 2 * air),
    height: Math.max(LEAST, height * zoom + 2 * air),
  };
  // The plate sits above the outline's start; at the picture's edges it moves inside.
  const plateX = Math.min(Math.max(0, box.x), Math.max(0, widthPx - plate));
  const above = box.y - plate + 1;
  const plateY = above >= 0 ? above : Math.min(Math.max(0, box.y), Math.max(0, heightPx - plate));
  return (
    <g class={`mark mark-${finding.level}${chosen ? ' mark-chosen' : ''}`} data-finding={finding.id}>
      <title>{`${title}: ${finding.message}`}</title>
      <rect class="mark-hit" {...box} rx="2" />
      <rect class="mark-halo" {...box} rx="2" />
      <rect class="mark-line" {...box} rx="2" stroke-dasharray={dash} />
      <g transform={`translate(${plateX} ${plateY})`}>
        <rect class="mark-plate" width={plate} height={plate} rx="3" />
        <g class="mark-sign" transform={`scale(${plate / 18}) translate(2.5 2.5) scale(.81)`}>
          <SignPaths check={finding.check} />
        </g>
      </g>
    </g>
  );
});
