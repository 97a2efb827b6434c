// The words of a token's name, and what they say that it is for: of tokens that nothing uses yet, no use tells.
import type { Role } from './case.ts';

type Said = 'ink' | 'ground' | 'line' | 'shadow';

/** Words of token names (common practice). */
const WORDS: Readonly<Record<Said, readonly string[]>> = {
  ink: ['text', 'ink', 'mark', 'foreground', 'fg', 'icon', 'label', 'caption', 'placeholder'],
  ground: ['background', 'bg', 'ground', 'surface', 'face', 'fill', 'panel', 'paper', 'canvas', 'backdrop'],
  line: ['border', 'edge', 'line', 'outline', 'stroke', 'divider', 'separator', 'rule', 'ring'],
  shadow: ['shadow', 'fall', 'elevation'],
};
const SAID = new Map((Object.keys(WORDS) as Said[]).flatMap((said) => WORDS[said].map((word) => [word, said] as const)));

const OF_ROLE: Readonly<Record<Role, Said | null>> = {
  ink: 'ink',
  glyph: 'ink',
  surface: 'ground',
  edge: 'line',
  ring: 'line',
  shadow: 'shadow',
  picture: null,
};

/** The last word that says anything decides: `--menu-border-color`, `field.line`. @returns true as well where none does */
export function mayServeAs(role: Role, path: string): boolean {
  const said = SAID.get(wordsIn(path).findLast((word) => SAID.has(word)) ?? '');
  return said === undefined || said === OF_ROLE[role];
}

/** What it is drawn as, and nothing of what it means. */
export function saysWhatFor(word: string): boolean {
  return SAID.has(word);
}

/** Numbers count things or steps, and single letters say nothing. */
export function wordsIn(text: string): readonly string[] {
  const parted = text.replace(/(?<=[a-z])(?=[A-Z])/gu, ' ').toLowerCase();
  return parted.split(/[^a-z]+/u).filter((word) => word.length > 1);
}
