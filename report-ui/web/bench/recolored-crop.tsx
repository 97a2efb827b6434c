// A place cut out of its stored picture, recoloured in place: as it would look.
import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { ChangedLook } from '../../api/bench.ts';
import { cropBox, cropPath } from '../../api/crop.ts';
import type { CropPlace } from '../../api/crop.ts';
import { fileAddress } from '../client.ts';
import { useWholePicture } from '../parts/picture.tsx';
import { drawRecolored, pixelLooks } from './recolored.ts';

export function RecoloredCrop({
  place,
  look,
  cut,
  title,
}: {
  readonly place: CropPlace;
  readonly look: ChangedLook;
  /** The server cuts pictures. */
  readonly cut: boolean;
  readonly title: string;
}): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const box = cropBox(place);
  const whole = useWholePicture(cut ? null : place.shot);
  const source = cut ? fileAddress(cropPath(place)) : whole;
  const from = cut ? { x: 0, y: 0 } : { x: Math.round(box.x * place.scale), y: Math.round(box.y * place.scale) };
  const key = JSON.stringify([source, look, from]);
  useEffect(() => {
    if (canvas.current === null || source === '') return;
    const size = { width: Math.round(box.width * place.scale), height: Math.round(box.height * place.scale) };
    // What lies behind reaches beyond the place itself.
    const around: ChangedLook = { ...look, rect: [box.x, box.y, box.width, box.height] };
    const looks = pixelLooks([around], place.scale, box);
    drawRecolored(canvas.current, source, { looks, from, size }).catch(() => undefined); // the empty canvas shows as such
  }, [key]);
  return (
    <span class="crop" style={{ width: `${box.width}px`, height: `${box.height}px` }}>
      <canvas ref={canvas} class="bench-canvas" role="img" aria-label={title} title={title} />
    </span>
  );
}
