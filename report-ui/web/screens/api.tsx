import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function ApiScreen(_: ScreenProps): JSX.Element {
  return <h1>api</h1>;
}
