import type { JSX } from 'preact';
import type { ScreenProps } from './screen-props.ts';

export function HistoryScreen(_: ScreenProps): JSX.Element {
  return <h1>history</h1>;
}
