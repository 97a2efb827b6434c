// States in which all interactive elements of a page are looked at, one after the other.
import type { State } from './configuration.ts';

/** The selector that stands for all interactive elements. */
const ALL = '*';

export type Walk = Extract<State, { readonly selector: string }> & { readonly kind: 'hover' | 'focus' | 'active' };

export function isWalk(state: State): state is Walk {
  return (state.kind === 'hover' || state.kind === 'focus' || state.kind === 'active') && state.selector === ALL;
}
