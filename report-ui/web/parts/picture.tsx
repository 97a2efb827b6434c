// A captured picture by hash: scaled where that is enough, whole where it is not.
import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { fileAddress, here } from '../client.ts';
import { siteForm, sitePicture } from '../site-files.ts';

/** Widths the server scales to, device px. The same list stands in the server, which refuses others. */
export const THUMB_WIDTHS = [240, 480, 960] as const;

/** Address of a whole picture; empty until it is known. */
export function useWholePicture(hash: string | null): string {
  const [src, setSrc] = useState('');
  useEffect(() => {
    setSrc('');
    if (hash === null) return undefined;
    let current = true;
    wholePicture(hash).then(
      (address) => {
        if (current) setSrc(address);
      },
      () => undefined, // the broken picture shows as such
    );
    return () => {
      current = false;
    };
  }, [hash]);
  return src;
}

export function wholePicture(hash: string): Promise<string> {
  return siteForm() ? sitePicture(hash) : Promise.resolve(here(`/blobs/${hash}`));
}

interface PictureProps {
  readonly hash: string;
  /** Width it is shown at, CSS px of this page. */
  readonly widthPx: number;
  readonly alt: string;
  /** Never scaled by the server. */
  readonly whole?: boolean;
  readonly scaled: boolean;
}

export function Picture({ hash, widthPx, alt, whole = false, scaled }: PictureProps): JSX.Element {
  const needed = widthPx * devicePixelRatio;
  const width = THUMB_WIDTHS.find((candidate) => candidate >= needed * 0.95);
  const thumb = whole || !scaled || width === undefined ? '' : fileAddress(`/thumbs/${hash}/${String(width)}`);
  const full = useWholePicture(thumb === '' ? hash : null);
  const src = thumb === '' ? full : thumb;
  return src === '' ? <span class="picture-wait" /> : <img src={src} alt={alt} draggable={false} decoding="async" />;
}
