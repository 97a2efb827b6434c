// Would a value leave its ramp as well ordered as it was? Asked of the checks of ramps themselves, so that no repair makes a fault of another kind.
import type { Color } from '../../colour/color.ts';
import { rampFaults } from '../../tokens/faults/ramp-faults.ts';
import { graphOfTable } from './graph-of-table.ts';
import type { RampTrend } from './ramp-trend.ts';
import type { TableIndex } from './table-index.ts';
import type { TokenEntry } from './token-table.ts';

export interface RampWatch {
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
  return {
    spoils: (token, themes, color) => {
      const place = index.stepOf(token);
      if (place === null) return false;
      const key = `${place.ramp} ${themes.join(',')}`;
      let known = before.get(key);
      if (known === undefined) before.set(key, (known = new Set(faultsOf(place.ramp, themes))));
      return faultsOf(place.ramp, themes, { token, color }).some((fault) => !known.has(fault));
    },
  };
}

/** Codes that are said of two steps, of which either may be named. */
const PAIRED: ReadonlySet<string> = new Set(['ramp-reversal', 'ramp-twins', 'ramp-spacing']);
