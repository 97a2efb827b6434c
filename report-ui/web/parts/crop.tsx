// A place cut out of its picture, with a little of what surrounds it.
import type { JSX } from 'preact';
import { cropBox, cropPath } from '../../api/crop.ts';
import type { CropPlace } from '../../api/crop.ts';
import { fileAddress } from '../client.ts';
import { useWholePicture } from './picture.tsx';

export function PlaceCrop({ place, cut }: { readonly place: CropPlace; readonly cut: boolean }): JSX.Element {
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
