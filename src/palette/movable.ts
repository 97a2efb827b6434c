// What of a token table may move: declarations that hold a colour (steps), and declarations that point at a step (aliases).
import type { Color } from '../colour/color.ts';
import { isOpaque } from '../colour/color.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import type { Declared } from '../triage/tokens/token-table.ts';

/** One declaration that holds a colour; it governs one theme or several. */
export interface Step {
  readonly token: number;
  readonly themes: readonly number[];
  readonly declared: Declared;
  readonly start: Color;
  /** Somebody said that it stays. */
  readonly isPinned: boolean;
}

/** One declaration that points at a step of a ramp. */
export interface Alias {
  readonly token: number;
  readonly themes: readonly number[];
  readonly declared: Declared;
  readonly target: number;
  /** Steps of the same ramp, `target` among them, in the order of the ramp. */
  readonly candidates: readonly number[];
}

export interface Movable {
  readonly steps: readonly Step[];
  readonly aliases: readonly Alias[];
  /** Place in `steps` of the declaration that decides a token in a theme; −1 where none does. */
  stepAt(theme: number, token: number): number;
  /** Place in `aliases` of a token's own declaration; −1 where it is no alias of a step. */
  aliasAt(theme: number, token: number): number;
}

export interface MoveOptions {
  /** Token paths that stay; those that point at them may still be pointed elsewhere. */
  readonly pins: readonly string[];
  /** Names of themes whose declarations may move; all when absent. A declaration that also governs another theme stays. */
  readonly themes?: readonly string[];
  readonly moves: 'steps' | 'aliases' | 'both';
}

export function findMovable(index: TableIndex, options: MoveOptions): Movable {
  const { table } = index;
  const pinned = new Set(options.pins);
  const mayMove = (themes: readonly number[]): boolean =>
    options.themes === undefined || themes.every((theme) => options.themes?.includes(table.themes[theme]?.name ?? ''));
  const steps: Step[] = [];
  const aliases: Alias[] = [];
  const stepOf = table.themes.map(() => new Map<number, number>());
  const aliasOf = table.themes.map(() => new Map<number, number>());
  table.tokens.forEach(({ path }, token) => {
    table.themes.forEach((_, theme) => {
      const definition = index.definitionOf(theme, token);
      if (definition === null || stepOf[theme]?.has(token) === true || aliasOf[theme]?.has(token) === true) return;
      const themes = index.governedBy(theme, token);
      const { declared } = definition;
      const stays = pinned.has(path) || !mayMove(themes);
      if (definition.kind === 'literal') {
        for (const each of themes) stepOf[each]?.set(token, steps.length);
        const isPinned = stays || options.moves === 'aliases' || !isOpaque(definition.color);
        steps.push({ token, themes, declared, start: definition.color, isPinned });
        return;
      }
      const target = index.tokenAt(definition.target);
      const place = index.stepOf(target);
      if (stays || options.moves === 'steps' || place === null) return;
      for (const each of themes) aliasOf[each]?.set(token, aliases.length);
      aliases.push({ token, themes, declared, target, candidates: index.stepsOf(place.ramp) });
    });
  });
  return {
    steps,
    aliases,
    stepAt: (theme, token) => stepOf[theme]?.get(index.rootOf(theme, token)) ?? -1,
    aliasAt: (theme, token) => aliasOf[theme]?.get(token) ?? -1,
  };
}
