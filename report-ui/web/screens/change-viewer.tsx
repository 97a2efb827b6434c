// Two pictures of one view, looked at side by side, behind a curtain, blinking, or as what remains between them.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Change } from '../../api/changes.ts';
import { Button } from '../parts/choice.tsx';
import { Picture } from '../parts/picture.tsx';
import { useWidth } from '../parts/use-width.ts';

export const WAYS_TO_LOOK = [
  { value: 'beside', label: 'side by side' },
  { value: 'curtain', label: 'curtain' },
  { value: 'blink', label: 'blink' },
  { value: 'remainder', label: 'remainder' },
] as const;
export type WayToLook = (typeof WAYS_TO_LOOK)[number]['value'];

/** Slower than three flashes a second by far (WCAG 2.2, 2.3.1). */
const BLINK_MS = 900;

interface ViewerProps {
  readonly change: Change;
  readonly way: WayToLook;
  readonly scaled: boolean;
}

export function ChangeViewer({ change, way, scaled }: ViewerProps): JSX.Element {
  const place = useRef<HTMLDivElement>(null);
  const width = useWidth(place);
  const { accepted, now } = change;
  if (accepted === null || now === null) {
    const [hash, name, note] =
      now === null
        ? [accepted ?? '', 'accepted', 'The run has no such view any more; accepting means that it is no longer expected.']
        : [now, 'now', 'Nothing was accepted for this view yet.'];
    return (
      <div ref={place} class="viewer">
        <p class="page-note">{note}</p>
        <Framed name={name} change={change} hash={hash} widthPx={Math.min(width, change.widthCssPx)} scaled={scaled} />
      </div>
    );
  }
  const whole = Math.min(width, change.widthCssPx);
  const half = Math.max(0, (width - 16) / 2);
  return (
    <div ref={place} class="viewer">
      {way === 'beside' && (
        <div class="beside">
          <Framed name="accepted" change={change} hash={accepted} widthPx={half} scaled={scaled} />
          <Framed name="now" change={change} hash={now} widthPx={half} scaled={scaled} />
        </div>
      )}
      {way === 'curtain' && <Curtain change={change} accepted={accepted} now={now} widthPx={whole} scaled={scaled} />}
      {way === 'blink' && <Blink change={change} accepted={accepted} now={now} widthPx={whole} scaled={scaled} />}
      {way === 'remainder' && <Remainder change={change} accepted={accepted} now={now} widthPx={whole} />}
    </div>
  );
}

interface SideProps {
  readonly change: Change;
  readonly accepted: string;
  readonly now: string;
  readonly widthPx: number;
  readonly scaled: boolean;
}

function Framed({
  name,
  change,
  hash,
  widthPx,
  scaled,
}: Omit<SideProps, 'accepted' | 'now'> & { readonly name: string; readonly hash: string }): JSX.Element {
  return (
    <figure class="framed">
      <figcaption>{name}</figcaption>
      <div class="framed-picture" style={{ width: `${widthPx}px` }}>
        <Picture hash={hash} widthPx={widthPx} alt={`${change.page} in ${change.theme}, ${name}`} scaled={scaled} />
        {name === 'now' && <Regions change={change} widthPx={widthPx} />}
      </div>
    </figure>
  );
}

function Regions({ change, widthPx }: { readonly change: Change; readonly widthPx: number }): JSX.Element {
  const zoom = widthPx / Math.max(1, change.widthCssPx);
  return (
    <svg class="marks" aria-hidden="true" width={widthPx} height={change.heightCssPx * zoom}>
      {change.regions.map(([x, y, width, height], index) => {
        const box = { x: x * zoom - 2, y: y * zoom - 2, width: width * zoom + 4, height: height * zoom + 4, rx: 2 };
        return (
          <g key={index}>
            <rect class="mark-halo" {...box} />
            <rect class="mark-line" {...box} stroke-dasharray="5 5" />
          </g>
        );
      })}
    </svg>
  );
}

function Curtain({ change, accepted, now, widthPx, scaled }: SideProps): JSX.Element {
  const [at, setAt] = useState(50);
  return (
    <div class="curtain" style={{ width: `${widthPx}px` }}>
      <label class="curtain-hand">
        <span>accepted</span>
        <input
          type="range"
          min="0"
          max="100"
          value={at}
          aria-label="How much of the accepted picture is shown, from the left"
          onInput={(event) => {
            setAt(Number(event.currentTarget.value));
          }}
        />
        <span>now</span>
      </label>
      <div class="framed-picture">
        <Picture hash={now} widthPx={widthPx} alt={`${change.page} in ${change.theme}, now`} scaled={scaled} />
        <div class="curtain-top" style={{ clipPath: `inset(0 ${100 - at}% 0 0)` }}>
          <Picture hash={accepted} widthPx={widthPx} alt={`${change.page} in ${change.theme}, accepted`} scaled={scaled} />
        </div>
        <span class="curtain-line" style={{ left: `${at}%` }} />
      </div>
    </div>
  );
}

/** Does not start by itself where the reader asked for less motion. */
function Blink({ change, accepted, now: current, widthPx, scaled }: SideProps): JSX.Element {
  const [running, setRunning] = useState(() => !matchMedia('(prefers-reduced-motion: reduce)').matches);
  const [now, setNow] = useState(true);
  useEffect(() => {
    if (!running) return undefined;
    const timer = setInterval(() => {
      setNow((old) => !old);
    }, BLINK_MS);
    return () => {
      clearInterval(timer);
    };
  }, [running]);
  return (
    <div style={{ width: `${widthPx}px` }}>
      <p class="curtain-hand">
        <Button
          pressed={running}
          onClick={() => {
            setRunning(!running);
          }}
        >
          Blink
        </Button>
        <Button
          disabled={running}
          onClick={() => {
            setNow(!now);
          }}
        >
          Other picture
        </Button>
        <b>{now ? 'now' : 'accepted'}</b>
      </p>
      <div class="framed-picture">
        <Picture hash={current} widthPx={widthPx} alt={`${change.page} in ${change.theme}, now`} scaled={scaled} />
        <div class="curtain-top" hidden={now}>
          <Picture hash={accepted} widthPx={widthPx} alt={`${change.page} in ${change.theme}, accepted`} scaled={scaled} />
        </div>
      </div>
    </div>
  );
}

/** The browser subtracts the pictures; what is equal is black. Whole pictures, since scaling would blur equal edges into differences. */
function Remainder({ change, accepted, now, widthPx }: Omit<SideProps, 'scaled'>): JSX.Element {
  return (
    <figure class="framed">
      <figcaption>remainder: what is left when one is taken from the other, brightened; equal pixels are black</figcaption>
      <div class="framed-picture remainder" style={{ width: `${widthPx}px` }}>
        <Picture hash={now} widthPx={widthPx} alt={`${change.page} in ${change.theme}, now`} whole scaled={false} />
        <div class="curtain-top">
          <Picture hash={accepted} widthPx={widthPx} alt="accepted" whole scaled={false} />
        </div>
      </div>
    </figure>
  );
}
