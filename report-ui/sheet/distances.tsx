// How far apart steps must stand for a contrast: every two ramps in every theme.
import type { JSX } from 'preact';
import type { SheetDistance } from '../api/token-sheet.ts';
import { TableHead } from '../web/parts/table.tsx';

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
        <TableHead columns={['Ramp', 'With', ...themes]} />
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
