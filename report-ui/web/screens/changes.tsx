import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function ChangesScreen(_: ScreenProps): JSX.Element {
  return <h1>changes</h1>;
}
