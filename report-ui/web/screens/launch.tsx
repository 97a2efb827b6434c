import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function LaunchScreen(_: ScreenProps): JSX.Element {
  return <h1>launch</h1>;
}
