// One token of a copy of the demo app changes: a step of a ramp of its dark theme.
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** @param round another value for each @throws Error the copy has no such step */
export function turnHarbour(folder: string, round: number): void {
  const file = path.join(folder, 'tokens', 'ramps-dusk.tokens.json');
  const text = readFileSync(file, 'utf8');
  const red = (60 + round).toString(16);
  const share = ((60 + round) / 255).toFixed(4);
  const now = text.replace(
    /"components": \[[\d.]+, 0\.2941, 0\.3255\], "hex": "#..4b53"/u,
    `"components": [${share}, 0.2941, 0.3255], "hex": "#${red}4b53"`,
  );
  if (now === text) throw new Error(`${file} has no step like #3b4b53`);
  writeFileSync(file, now);
  // This file runs as dist/bench/turn-harbour.js.
  execFileSync(process.execPath, [path.resolve(import.meta.dirname, '..', 'scenarios', 'harbour', 'build-css.js'), folder]);
}
