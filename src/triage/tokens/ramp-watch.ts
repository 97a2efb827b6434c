// Would a value leave its ramp as well ordered as it was? Asked of the checks of ramps themselves, so that no repair makes a fault of another kind.
import type { Color } from '../../colour/color.ts';
import { isOpaque } from '../../colour/color.ts';
import { cieLightness } from '../../colour/lightness.ts';
import { rampFaults } from '../../tokens/faults/ramp-faults.ts';
import { graphOfTable } from './graph-of-table.ts';
import type { RampTrend } from './ramp-trend.ts';
import type { TableIndex } from './table-index.ts';
import type { TokenEntry } from './token-table.ts';

export interface RampWatch {
  /** True only where `spoils` is; many times quicker, since it looks at nothing but the order of neighbours. */
  disorders(token: number, themes: readonly number[], color: Color): boolean;
  /** True when a ramp with this value has a fault that it did not have: out of order, a jump, off course, a twin. Never of what is no step. */
  spoils(token: number, themes: readonly number[], color: Color): boolean;
}

export function openRampWatch(index: TableIndex, trend: RampTrend): RampWatch {
  const before = new Map<string, ReadonlySet<string>>();
  const faultsOf = (
    ramp: number,
    themes: readonly number[],
    value?: { readonly token: number; readonly color: Color },
  ): string[] => {
    const steps = index.stepsOf(ramp).map((token): TokenEntry => {
      const definitions = themes.map((theme) => {
        const color = value?.token === token ? value.color : index.colorOf(theme, token);
        return color === null ? null : { kind: 'literal' as const, color, declared: { id: `${theme}` } };
      });
      return { path: index.pathOf(token), properties: [], definitions };
    });
    const { name = '' } = index.table.ramps[ramp] ?? {};
    const table = {
      themes: themes.flatMap((theme) => index.table.themes[theme] ?? []),
      reference: 0,
      tokens: steps,
      ramps: [{ name, steps: steps.map(({ path }) => path) }],
    };
    return rampFaults(graphOfTable(table)).flatMap(({ code, token, others, themes: where }) =>
      // What is said of another step that is wrong itself was there before, under whatever name.
      isOddElsewhere(token, where)
        ? []
        : where.map((theme) => `${code} ${PAIRED.has(code) ? [token, ...others].sort().join(' ') : token} ${theme}`),
    );
    function isOddElsewhere(path: string, where: readonly string[]): boolean {
      const at = index.tokenAt(path);
      return at !== value?.token && where.every((theme) => trend.courseOf(index.themeAt(theme), at)?.odd === true);
    }
  };
  const knownOf = (ramp: number, themes: readonly number[]): ReadonlySet<string> => {
    const key = `${ramp} ${themes.join(',')}`;
    let known = before.get(key);
    if (known === undefined) before.set(key, (known = new Set(faultsOf(ramp, themes))));
    return known;
  };
  /** Lightness that a step must keep above and below, so that it stays in order with neighbours that keep to their own course. */
  const roomOf = (ramp: number, token: number, theme: number, themes: readonly number[]): Room => {
    const steps = index.stepsOf(ramp).flatMap((step) => {
      const color = index.colorOf(theme, step);
      return color === null || !isOpaque(color) ? [] : [{ step, lightness: cieLightness(color) }];
    });
    const at = steps.findIndex(({ step }) => step === token);
    const [first, last] = [steps[0], steps.at(-1)];
    // An end says itself which way the ramp goes.
    if (first === undefined || last === undefined || at <= 0 || at === steps.length - 1) return ALL;
    const direction = Math.sign(last.lightness - first.lightness);
    if (direction === 0) return ALL;
    const known = knownOf(ramp, themes);
    const name = index.table.themes[theme]?.name ?? '';
    const boundBy = (other: (typeof steps)[number] | undefined): number | null => {
      if (other === undefined || trend.courseOf(theme, other.step)?.odd === true) return null;
      const pair = [index.pathOf(token), index.pathOf(other.step)].sort().join(' ');
      return known.has(`ramp-reversal ${pair} ${name}`) ? null : other.lightness;
    };
    const bounds = [boundBy(steps[at - 1]), boundBy(steps[at + 1])];
    const [low, high] = direction > 0 ? bounds : bounds.toReversed();
    return { low: low ?? -Infinity, high: high ?? Infinity };
  };
  const rooms = new Map<string, readonly Room[]>();
  return {
    disorders: (token, themes, color) => {
      const place = index.stepOf(token);
      if (place === null || !isOpaque(color)) return false;
      const key = `${token} ${themes.join(',')}`;
      let known = rooms.get(key);
      if (known === undefined) rooms.set(key, (known = themes.map((theme) => roomOf(place.ramp, token, theme, themes))));
      const lightness = cieLightness(color);
      return known.some(({ low, high }) => lightness < low || lightness > high);
    },
    spoils: (token, themes, color) => {
      const place = index.stepOf(token);
      if (place === null) return false;
      const known = knownOf(place.ramp, themes);
      return faultsOf(place.ramp, themes, { token, color }).some((fault) => !known.has(fault));
    },
  };
}

/** Of lightness, L*. */
interface Room {
  readonly low: number;
  readonly high: number;
}

const ALL: Room = { low: -Infinity, high: Infinity };

/** Codes that are said of two steps, of which either may be named. */
const PAIRED: ReadonlySet<string> = new Set(['ramp-reversal', 'ramp-twins', 'ramp-spacing']);
