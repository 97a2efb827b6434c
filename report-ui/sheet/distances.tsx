// How far apart steps must stand for a contrast: every two ramps in every theme.
import type { JSX } from 'preact';
import type { SheetDistance } from '../api/token-sheet.ts';

export function Distances({
  distances,
  themes,
}: {
  readonly distances: readonly SheetDistance[];
  readonly themes: readonly string[];
}): JSX.Element {
  return (
    <div class="scroll-x" tabIndex={0} role="group" aria-label="Steps apart">
      <table class="table">
        <caption class="unseen">Steps apart that reach 3, 4.5 and 7 to 1, for every two ramps in every theme</caption>
        <thead>
          <tr>
            <th scope="col">Ramp</th>
            <th scope="col">With</th>
            {themes.map((theme) => (
              <th scope="col" key={theme}>
                {theme}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {distances.map(({ ink, surface, themes: cells }) => (
            <tr key={`${ink} ${surface}`}>
              <th scope="row" class="sheet-token">
                {ink}
              </th>
              <td class="sheet-token">{ink === surface ? 'itself' : surface}</td>
              {cells.map((cell, index) => (
                <td key={themes[index]}>{cell.length === 0 ? '–' : cell.map((steps) => steps ?? '–').join(' / ')}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
