// A place cut out of its picture, with a little of what surrounds it.
import type { JSX } from 'preact';
import type { Place } from '../../api/findings.ts';
import { fileAddress } from '../client.ts';
import { useWholePicture } from './picture.tsx';

/** Air around the place and the least and most a crop shows, CSS px of the page under test. */
const AIR = 14;
const LEAST = { width: 150, height: 56 };
const MOST = { width: 330, height: 132 };

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** The part of the picture that is shown; whole CSS px, inside the picture. */
export function cropBox({ finding: { rect }, widthCssPx, heightCssPx }: Place): Box {
  const [x, y, width, height] = rect;
  const side = (from: number, size: number, least: number, most: number, all: number): readonly [number, number] => {
    const wanted = Math.round(Math.min(all, Math.max(least, Math.min(most, size + 2 * AIR))));
    // Places larger than a crop show where they begin.
    const start = size + 2 * AIR > most ? from - AIR : from + size / 2 - wanted / 2;
    return [Math.round(Math.max(0, Math.min(all - wanted, start))), wanted];
  };
  const [left, across] = side(x, width, LEAST.width, MOST.width, widthCssPx);
  const [top, down] = side(y, height, LEAST.height, MOST.height, heightCssPx);
  return { x: left, y: top, width: across, height: down };
}

/** Address of the cut, in device px. */
export function cropPath(place: Place): string {
  const { x, y, width, height } = cropBox(place);
  return `/crops/${place.shot ?? ''}/${[x, y, width, height].map((value) => Math.round(value * place.scale)).join('-')}`;
}

export function Crop({ place, cut }: { readonly place: Place; readonly cut: boolean }): JSX.Element {
  const box = cropBox(place);
  const [x, y, width, height] = place.finding.rect;
  const file = cut && place.shot !== null ? fileAddress(cropPath(place)) : '';
  const whole = useWholePicture(file === '' ? place.shot : null);
  return (
    <span class="crop" style={{ width: `${box.width}px`, height: `${box.height}px` }}>
      {file !== '' && <img src={file} alt="" width={box.width} height={box.height} loading="lazy" />}
      {file === '' && whole !== '' && (
        <img
          class="crop-whole"
          src={whole}
          alt=""
          width={place.widthCssPx}
          style={{ left: `${-box.x}px`, top: `${-box.y}px` }}
          loading="lazy"
        />
      )}
      <svg aria-hidden="true" width={box.width} height={box.height}>
        <rect class="mark-halo" x={x - box.x - 2} y={y - box.y - 2} width={width + 4} height={height + 4} rx="2" />
        <rect class="mark-line" x={x - box.x - 2} y={y - box.y - 2} width={width + 4} height={height + 4} rx="2" />
      </svg>
    </span>
  );
}
