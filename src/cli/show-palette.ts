// A palette worked out, told in the terminal.
import { showRatio } from '../colour/contrast-ratio.ts';
import type { Palette, PaletteChange, PalettePair, UnmetPair } from '../palette/palette.ts';
import { count } from './io.ts';
import type { Io } from './io.ts';
import type { Retuned } from './run/retune-run.ts';
import { swatch } from './swatch.ts';

export function showPalette(io: Io, { palette, left, tokenFaults }: Retuned): void {
  const { changes, unmet, binding } = palette;
  for (const each of changes) showChange(io, each);
  if (changes.length > 0) io.say();
  io.say(summary(palette));
  if (palette.elsewhere > 0)
    io.say(
      `${count(palette.elsewhere, 'finding')} of contrast are left: their causes lie in the pages or their build (gloam explain).`,
    );
  if (palette.outOfReach > 0)
    io.say(`${count(palette.outOfReach, 'finding')} of contrast hang on no token that may move: literals, pictures, gradients.`);
  for (const { check, places } of palette.breaks)
    io.say(io.style('yellow', `It would break ${count(places, 'place')} for ${check}.`));
  for (const { token, message } of tokenFaults) io.say(io.style('yellow', `New in the token files, ${token}: ${message}`));
  for (const words of left) io.say(io.style('yellow', `Not in the token files: ${words}.`));
  if (palette.gaveUp !== undefined) io.say(io.style('yellow', `The solver stopped early: ${palette.gaveUp}.`));
  if (unmet.length > 0) {
    io.say();
    io.say(io.style('bold', `Cannot be met: ${count(unmet.length, 'pair')}`));
    for (const each of unmet) showUnmet(io, each);
  }
  if (binding.length > 0) {
    io.say();
    io.say(io.style('bold', 'Would fail next'));
    for (const each of binding) io.say(`  ${pairText(each)}`);
  }
  io.say();
  showComparison(io, palette);
}

function showChange(io: Io, { change, of, from, to, themes, file, line, movement, mends }: PaletteChange): void {
  const what =
    change === 'value'
      ? `${from}${io.color ? ` ${swatch(io, from)}` : ''} → ${to}${io.color ? ` ${swatch(io, to)}` : ''}`
      : `${from} → ${to}`;
  const place = file === undefined ? '' : `  ${io.style('dim', `${file}${line === undefined ? '' : `:${String(line)}`}`)}`;
  io.say(`${io.style('bold', of)}  ${what}  (${themes.join(', ')})${place}`);
  io.say(`  moves ${moved(movement)}, has a part in mending ${count(mends, 'finding')}`);
}

function summary({ changes, findings, mends, movement }: Palette): string {
  if (findings === 0) return 'No finding of contrast: the palette stays as it is.';
  if (changes.length === 0) return `${count(findings, 'finding')} of contrast, and nothing of the palette that would mend one.`;
  return `${count(changes.length, 'change')} move ${moved(movement)} in all and mend ${count(mends, 'finding')}, of contrast and of other checks; ${count(findings, 'finding')} of contrast stand now.`;
}

function showUnmet(io: Io, pair: UnmetPair): void {
  io.say(`  ${pairText(pair)}, ${count(pair.findings, 'finding')}`);
  const { against } = pair;
  if (against === null) return;
  const parts = [
    ...(against.pins.length === 0 ? [] : [`pinned: ${against.pins.join(', ')}`]),
    ...against.rules.map((name) => `the ramp: ${name}`),
    ...against.pairs.map((other) => `another pair: ${pairText(other)}`),
  ];
  const why = parts.length > 0 ? `in its way: ${parts.join('; ')}` : 'by itself: no lightness of what may move here reaches it';
  io.say(io.style('dim', `    ${why}`));
}

function pairText({ ink, ground, theme, ratio, required, places }: PalettePair): string {
  return `${ink} on ${ground} in ${theme}: ${showRatio(ratio)} of ${String(required)} (${count(places, 'place')})`;
}

function showComparison(io: Io, { changes, movement, mends, breaks, oneByOne }: Palette): void {
  const rows = [
    ['', 'changes', 'ΔE OK', 'mends', 'breaks'],
    ['together', changes.length, movement.toFixed(3), mends, breaks.reduce((sum, { places }) => sum + places, 0)],
    ['repair by repair', oneByOne.changes, oneByOne.movement.toFixed(3), oneByOne.mends, oneByOne.breaks],
  ].map((row) => row.map(String));
  for (const [name = '', ...cells] of rows) io.say(`${name.padEnd(17)}${cells.map((cell) => cell.padStart(9)).join('')}`);
}

function moved(movement: number): string {
  return `${movement.toFixed(3)} ΔE OK`;
}
