// The loupe: the pixels around a place, much enlarged, with the exact colour in the middle. One for each theme, all at the same place.
import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Swatch } from './bits.tsx';
import { wholePicture } from './picture.tsx';

/** Pixels shown across (odd, so that one is the middle) and the px of this page each takes. */
const ACROSS = 13;
const ENLARGED = 9;

/** A place in the page under test, CSS px. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

type Pixels = { readonly context: OffscreenCanvasRenderingContext2D; readonly width: number; readonly height: number };
const read = new Map<string, Promise<Pixels>>();
/** Decoded pictures are large. */
const KEPT = 10;

async function pixelsOf(hash: string): Promise<Pixels> {
  const image = new Image();
  image.src = await wholePicture(hash);
  await image.decode();
  const canvas = new OffscreenCanvas(image.naturalWidth, image.naturalHeight);
  const context = canvas.getContext('2d', { willReadFrequently: true, colorSpace: 'srgb' });
  if (context === null) throw new Error('This browser gives no drawing surface.');
  context.drawImage(image, 0, 0);
  return { context, width: canvas.width, height: canvas.height };
}

function keepPixels(hash: string): Promise<Pixels> {
  const known = read.get(hash);
  if (known !== undefined) return known;
  const promise = pixelsOf(hash);
  read.set(hash, promise);
  const [oldest] = read.keys();
  if (read.size > KEPT && oldest !== undefined) read.delete(oldest);
  return promise;
}

function hex([red = 0, green = 0, blue = 0]: Uint8ClampedArray): string {
  return `#${[red, green, blue].map((channel) => channel.toString(16).padStart(2, '0')).join('')}`;
}

export function Loupe({
  hash,
  spot,
  scale,
}: {
  readonly hash: string;
  readonly spot: Spot | null;
  readonly scale: number;
}): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [pixels, setPixels] = useState<Pixels | null>(null);
  const [color, setColor] = useState<string | null>(null);
  useEffect(() => {
    let current = true;
    keepPixels(hash).then(
      (got) => {
        if (current) setPixels(got);
      },
      () => undefined,
    );
    return () => {
      current = false;
    };
  }, [hash]);
  useEffect(() => {
    const target = canvas.current?.getContext('2d');
    if (target === null || target === undefined || pixels === null || spot === null) return;
    const x = Math.floor(spot.x * scale);
    const y = Math.floor(spot.y * scale);
    const half = (ACROSS - 1) / 2;
    target.imageSmoothingEnabled = false;
    target.clearRect(0, 0, ACROSS, ACROSS);
    target.drawImage(pixels.context.canvas, x - half, y - half, ACROSS, ACROSS, 0, 0, ACROSS, ACROSS);
    const inside = x >= 0 && y >= 0 && x < pixels.width && y < pixels.height;
    setColor(inside ? hex(pixels.context.getImageData(x, y, 1, 1).data) : null);
  }, [pixels, spot?.x, spot?.y, scale]);
  return (
    <div class="loupe">
      <span class="loupe-lens">
        <canvas
          ref={canvas}
          width={ACROSS}
          height={ACROSS}
          style={{ width: `${ACROSS * ENLARGED}px`, height: `${ACROSS * ENLARGED}px` }}
          aria-hidden="true"
        />
      </span>
      <span class="loupe-read">
        {spot === null ? (
          'Point at a picture, or focus one and use the arrow keys.'
        ) : (
          <>
            {color === null ? 'outside' : <Swatch color={color} />}
            <span class="num">
              {Math.floor(spot.x)}, {Math.floor(spot.y)}
            </span>
          </>
        )}
      </span>
    </div>
  );
}
