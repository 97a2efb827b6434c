// Marks on a picture: an outline around the place with the line pattern of its check, and a plate with its sign beside it. Drawn twice,
// light under dark, so that they can be seen on any picture. Of a chosen finding only its cause is lit. Keyboards and screen readers use
// the list beside the pictures.
import type { JSX } from 'preact';
import { useContext } from 'preact/hooks';
import type { Finding } from '../../api/findings.ts';
import { ChecksContext, SignPaths, useCheck } from './glyph.tsx';
import { placeMarks } from './place-marks.ts';
import type { PlacedMark } from './place-marks.ts';

/** Room between the place and its outline, and the side of a plate, px of this page; smaller on small pictures. */
const LARGE = { air: 3, plate: 18 } as const;
const SMALL = { air: 1.5, plate: 11 } as const;
/** Below this zoom a picture is small. */
const SMALL_ZOOM = 0.3;

interface MarksProps {
  readonly findings: readonly Finding[];
  /** Px of this page per CSS px of the picture. */
  readonly zoom: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Of any picture of the page. */
  readonly chosen: Finding | null;
  readonly onChoose: (id: string) => void;
}

export function Marks({ findings, zoom, widthPx, heightPx, chosen, onChoose }: MarksProps): JSX.Element {
  const size = zoom < SMALL_ZOOM ? SMALL : LARGE;
  const marks = placeMarks(findings, { zoom, widthPx, heightPx, ...size }, chosen?.id ?? null);
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
      {marks.map((mark) => (
        <Mark key={mark.findings[0].id} mark={mark} plate={size.plate} chosen={chosen} />
      ))}
    </svg>
  );
}

interface MarkProps {
  readonly mark: PlacedMark;
  readonly plate: number;
  readonly chosen: Finding | null;
}

function Mark({ mark: { findings, box, plate: at }, plate, chosen }: MarkProps): JSX.Element {
  const [first] = findings;
  const { title, dash } = useCheck(first.check);
  const [x, y, width, height] = box;
  const isChosen = first.id === chosen?.id;
  const dim = chosen !== null && !findings.some(({ id, cause }) => id === chosen.id || (cause !== null && cause === chosen.cause));
  const level = findings.find((each) => each.level === 'error')?.level ?? first.level;
  const rect = { x, y, width, height, rx: 2 };
  const many = findings.length > 1;
  return (
    <g class={`mark mark-${level}${isChosen ? ' mark-chosen' : ''}${dim ? ' mark-dim' : ''}`} data-finding={first.id}>
      <title>{many ? `${String(findings.length)} findings; the first: ${first.message}` : `${title}: ${first.message}`}</title>
      <rect class="mark-hit" {...rect} />
      <rect class="mark-halo" {...rect} />
      <rect class="mark-line" {...rect} stroke-dasharray={many ? undefined : dash} />
      <rect class="mark-plate" x={at[0]} y={at[1]} width={plate} height={plate} rx="3" />
      {many ? (
        <text class="mark-count" x={at[0] + plate / 2} y={at[1] + plate * 0.72} text-anchor="middle" font-size={plate * 0.62}>
          {findings.length > 99 ? '99+' : findings.length}
        </text>
      ) : (
        <use
          class="mark-sign"
          href={`#sign-${first.check}`}
          x={at[0] + plate * 0.14}
          y={at[1] + plate * 0.14}
          width={plate * 0.72}
          height={plate * 0.72}
        />
      )}
    </g>
  );
}

/** The signs that marks point at; once on a page. */
export function MarkSigns(): JSX.Element {
  return (
    <svg class="unseen" aria-hidden="true" width="0" height="0">
      {useContext(ChecksContext).map(({ id }) => (
        <symbol key={id} id={`sign-${id}`} viewBox="0 0 16 16">
          <SignPaths check={id} />
        </symbol>
      ))}
    </svg>
  );
}
