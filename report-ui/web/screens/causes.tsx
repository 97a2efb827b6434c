import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function CausesScreen(_: ScreenProps): JSX.Element {
  return <h1>causes</h1>;
}
