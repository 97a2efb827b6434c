import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function RampsScreen(_: ScreenProps): JSX.Element {
  return <h1>ramps</h1>;
}
