// What no change mends: grouped by what stands in the way, and said so. A colour that is written out is known to be the fault, though
// nothing is there to take its place.
import { fnv1a64 } from '../../checks/finding-id.ts';
import { cieLightness } from '../../colour/lightness.ts';
import type { Finding } from '../../samples/finding.ts';
import type { Ground } from '../propose/candidate.ts';
import type { ExplainedCause } from './causes.ts';
import { ownRule } from '../cases/own-rules.ts';
import { shownOf } from './causes.ts';
import { chainOf } from './chain.ts';
import type { Case } from '../cases/case.ts';
import { appendTo, ascending } from '../counting.ts';
import { listed, nameOfRef, themeNames, WHAT } from './naming.ts';
import { readableName, readablePlace } from './readable-place.ts';
import { shortfall } from './shortfall.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { TableIndex } from '../tokens/table-index.ts';
import type { CaseFault } from '../world.ts';

export function unknownCauses(
  ground: Ground,
  findings: readonly Finding[],
  faults: readonly CaseFault[],
  onLeft: ReadonlyMap<CaseFault, CaseFault>,
): readonly ExplainedCause[] {
  const groups = new Map<string, CaseFault[]>();
  const upon = new Map<CaseFault, CaseFault[]>();
  const all = new Set(faults);
  for (const fault of faults) {
    const surface = onLeft.get(fault);
    // It may have its cause in another state of the page.
    if (surface !== undefined && all.has(surface)) {
      appendTo(upon, surface, fault);
      continue;
    }
    const own = isWrittenOut(ground, fault) ? (ownRule(fault.case.wrote) ?? '') : obstacle(ground, fault);
    appendTo(groups, `${fault.check} ${refKey(fault.case.fore)} ${own}`, fault);
  }
  return [...groups].map(([key, group]) => {
    const { index } = ground.world;
    const shown = shownOf(group);
    const lying = group.flatMap((fault) => upon.get(fault) ?? []);
    const own = ascending(group.flatMap((fault) => fault.findings));
    const ids = ascending([...group, ...lying].flatMap((fault) => fault.findings));
    const themes = themeNames(index, ascending(group.map((fault) => fault.case.theme)));
    const [first] = group;
    const at = findings[own[0] ?? -1];
    const place = shown === null ? '' : placeName(shown, at);
    const isKnown = first !== undefined && isWrittenOut(ground, first);
    const why =
      shown !== null && isKnown
        ? `${place} writes out ${nameOfRef(index, shown.fore)} for its ${WHAT[shown.role]}, ${shortfall(ground, shown)} in ${listed(themes)}; ${nothingFor(index)}${lying.length === 0 ? '' : '; until it follows, what lies on it cannot be read'}.`
        : `${shown === null ? '' : `${place} (${nameOfRef(index, shown.fore)})`} in ${listed(themes)} cannot be told: ${first === undefined ? '' : obstacle(ground, first)}.`;
    return {
      cause: {
        id: fnv1a64(`unknown ${key}`),
        layer: isKnown ? 'gap' : 'unknown',
        chain: shown === null ? [] : chainOf(index, shown, null, []),
        findings: ids.length,
        themes,
        pages: new Set(ids.map((at) => findings[at]?.page)).size,
        confidence: 0,
        why,
        ...(place === '' ? {} : { place }),
      },
      findings: ids,
      changes: [],
    };
  });
}

/** Of a set with tokens only what stayed in another theme, or is not told from what lies around it there, is sure to want one. */
function isWrittenOut({ world }: Ground, { case: one, check }: CaseFault): boolean {
  const wantsToken = check === 'unthemed' || check === 'separation' || world.index.table.tokens.length === 0;
  return one.fore.kind === 'literal' && !one.foreFixed && wantsToken;
}

function nothingFor({ table }: TableIndex): string {
  return table.tokens.length === 0 ? 'no token is known to take its place' : 'no token of the set would do there';
}

/** A colour that is written out is found by the rule that writes it. */
function placeName({ fore, wrote, place: { sample } }: Case, at: Finding | undefined): string {
  const rule = fore.kind === 'literal' ? ownRule(wrote) : undefined;
  const there = readablePlace(at?.selector ?? '', at, sample?.kind === 'text' ? sample.text : '');
  return rule === undefined ? there : readableName(rule, there);
}

/** CIE L*: harsh steps are far larger. */
const MERGED = 4;

function isMerged({ seenFore, seenBacks: [back = seenFore] }: Case): boolean {
  return Math.abs(cieLightness(seenFore) - cieLightness(back)) < MERGED;
}

function obstacle(ground: Ground, { case: one, check }: CaseFault): string {
  if (one.fore.kind === 'unknown') return 'its colour could not be traced to a declaration';
  if (one.foreFixed)
    return 'what is seen is not what its colours add up to (a filter, blend mode, picture or shadow above changes it)';
  if (one.fore.kind === 'derived') return `its colour is computed from ${nameOfRef(ground.world.index, one.fore)}`;
  if (one.foreOpacity < 1)
    return `it is faded (opacity ${Number(one.foreOpacity.toFixed(3))}), and no change of that alone or with its colour mends it`;
  if (one.backFixed && check !== 'glow') return 'a picture, a gradient or something untraced lies behind it';
  if (check === 'separation' && isMerged(one)) return 'nothing tells it from what is around it; an outline there would';
  return 'no change of one or two definitions or uses mends it without breaking others';
}
