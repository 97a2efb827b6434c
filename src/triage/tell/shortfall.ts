// What is wrong at one place, as a part of a sentence.
import { showRatio } from '../../colour/contrast-ratio.ts';
import { LEAST_GRAPHIC_CONTRAST } from '../../colour/graphic-requirement.ts';
import { toCssText } from '../../colour/format-color.ts';
import { cieLightness } from '../../colour/lightness.ts';
import type { Case } from '../cases/case.ts';
import { groundOf } from '../cases/usage.ts';
import type { Ground } from '../propose/candidate.ts';
import { pairsOf } from '../recolor/recolor.ts';
import { lowest } from '../recolor/recolored-sample.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import { nameOfRef } from './naming.ts';

/** What it lies on. */
export function backName(index: TableIndex, one: Case): string {
  // What an edge touches is seen beside it: where plain layers do not make that, it is another line or a shadow.
  const isBeside = one.facts.kind === 'graphic' && one.back.length > 0;
  if (one.backFixed && !isBeside) return 'the picture or gradient behind it';
  const surface = one.backFixed ? -1 : groundOf(one);
  const seen = toCssText(one.seenBacks[0] ?? one.seenFore);
  if (surface < 0) return seen;
  return one.back.at(-1)?.tint === undefined ? index.pathOf(surface) : `${index.pathOf(surface)} (seen as ${seen})`;
}

function separated(step: number): string {
  return step < 2
    ? 'where it cannot be told from what is around it'
    : `where it differs by ${step.toFixed(0)} L* from what is around it`;
}

/** Of an icon that nothing is asked of by itself: what it reaches in the reference theme. */
function askedOf({ required }: Case): number {
  return required === 0 ? LEAST_GRAPHIC_CONTRAST : required;
}

export function shortfall(ground: Ground, one: Case): string {
  const { index } = ground.world;
  const check = [...one.findings.keys()].toSorted()[0] ?? 'drift';
  const [pair] = pairsOf(one);
  if (pair === undefined) return '';
  const on = backName(index, one);
  switch (check) {
    case 'text-contrast':
    case 'graphic-contrast':
      return `where ${nameOfRef(index, one.fore)} on ${on} reaches ${showRatio(lowest(pairsOf(one)))} of ${askedOf(one)}`;
    case 'glow':
      return `where its shadow is ${(cieLightness(pair.fore) - cieLightness(pair.back)).toFixed(1)} L* lighter than what it falls on`;
    case 'neon':
      return 'where it glares on its dark surroundings';
    case 'flipped':
      return 'where a surface leaves its tone';
    case 'separation':
      return separated(Math.abs(cieLightness(pair.fore) - cieLightness(pair.back)));
    case 'unthemed':
      return 'which did not follow the theme';
    case 'inverted-picture':
      return 'where pictures come out inverted';
    default:
      return `where ${check} finds it wrong`;
  }
}
