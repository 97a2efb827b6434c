// PNG → pixels: sharp where it is installed (native threads, measured 6 times quicker), else pngjs.
import { PNG } from 'pngjs';
import type { Pixels } from '../../src/pictures/pixels.ts';

type Decode = (png: Uint8Array) => Promise<Omit<Pixels, 'leftPx' | 'topPx'>>;

let decoder: Promise<Decode> | null = null;

/** @param place of the picture's top left pixel in the picture of the whole page, device px */
export async function decodePng(png: Uint8Array, place: { readonly leftPx: number; readonly topPx: number }): Promise<Pixels> {
  const decode = await (decoder ??= findDecoder());
  return { ...(await decode(png)), ...place };
}

async function findDecoder(): Promise<Decode> {
  try {
    const { default: sharp } = await import('sharp');
    return async (png) => {
      const { data, info } = await sharp(png, { limitInputPixels: false }).raw().toBuffer({ resolveWithObject: true });
      return { data, widthPx: info.width, heightPx: info.height, channels: info.channels === 4 ? 4 : 3 };
    };
  } catch {
    // An optional dependency: some platforms have no build of it.
    return (png) => Promise.resolve(decodeSlowly(png));
  }
}

export function decodeSlowly(png: Uint8Array): Omit<Pixels, 'leftPx' | 'topPx'> {
  const { data, width, height } = PNG.sync.read(Buffer.from(png));
  return { data, widthPx: width, heightPx: height, channels: 4 };
}
