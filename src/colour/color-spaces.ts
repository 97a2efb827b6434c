// sRGB → the components of another CSS colour space (CSS Color 4; the spaces of Design Tokens Color Module 2025.10, section 4).
import { converter } from 'culori';
import type { Color } from './color.ts';

const CONVERTERS = {
  srgb: read('rgb', ['r', 'g', 'b']),
  'srgb-linear': read('lrgb', ['r', 'g', 'b']),
  'display-p3': read('p3', ['r', 'g', 'b']),
  'a98-rgb': read('a98', ['r', 'g', 'b']),
  'prophoto-rgb': read('prophoto', ['r', 'g', 'b']),
  rec2020: read('rec2020', ['r', 'g', 'b']),
  'xyz-d65': read('xyz65', ['x', 'y', 'z']),
  'xyz-d50': read('xyz50', ['x', 'y', 'z']),
  hsl: read('hsl', ['h', 's', 'l'], [1, 100, 100]),
  hwb: read('hwb', ['h', 'w', 'b'], [1, 100, 100]),
  lab: read('lab', ['l', 'a', 'b']),
  lch: read('lch', ['l', 'c', 'h']),
  oklab: read('oklab', ['l', 'a', 'b']),
  oklch: read('oklch', ['l', 'c', 'h']),
};

export type SpaceName = keyof typeof CONVERTERS;

/** @returns in the units of the space: hues in degrees, percentages 0–100; a hue that says nothing is 0 */
export function componentsIn(space: SpaceName, { r, g, b }: Color): readonly [number, number, number] {
  return CONVERTERS[space]({ mode: 'rgb', r, g, b });
}

type Mode = Parameters<typeof converter>[0];
interface Rgb {
  readonly mode: 'rgb';
  readonly r: number;
  readonly g: number;
  readonly b: number;
}

function read(
  mode: Mode,
  names: readonly [string, string, string],
  scale: readonly [number, number, number] = [1, 1, 1],
): (color: Rgb) => readonly [number, number, number] {
  const convert = converter(mode);
  const [one, two, three] = names;
  return (color) => {
    const found: Readonly<Record<string, unknown>> = { ...convert(color) };
    const part = (name: string, factor: number): number => {
      const value = found[name];
      return typeof value === 'number' ? value * factor : 0;
    };
    return [part(one, scale[0]), part(two, scale[1]), part(three, scale[2])];
  };
}
