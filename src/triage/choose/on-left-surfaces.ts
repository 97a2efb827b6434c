// A surface that stayed as in the other theme, and that no token would mend: what lies on it and can be read in the reference theme is no matter
// of its own, whatever else could mend it there.
import type { Ground } from '../propose/candidate.ts';
import { isContrast } from '../propose/gap.ts';
import type { CheckId } from '../../samples/finding.ts';
import type { Case } from '../cases/case.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { CaseFault, World } from '../world.ts';

/** @param unexplained what nothing would mend @returns faults on such surfaces, each with the surface's own */
export function onLeftSurfaces({ world }: Ground, unexplained: readonly CaseFault[]): ReadonlyMap<CaseFault, CaseFault> {
  const surfaces = new Map<string, CaseFault>();
  for (const fault of unexplained) {
    const { role, elements, theme } = fault.case;
    if (fault.check === 'unthemed' && role === 'surface') for (const el of elements) surfaces.set(`${theme} ${el}`, fault);
  }
  if (surfaces.size === 0) return new Map();
  const found = new Map<CaseFault, CaseFault>();
  for (const fault of world.faults) {
    const { grounds, theme } = fault.case;
    const below = [...grounds].map((el) => surfaces.get(`${theme} ${el}`));
    const [surface] = below;
    if (surface === undefined || below.includes(undefined) || !isContrast(fault)) continue;
    const there = world.inReference(fault.case);
    const isRight = there === null ? isReadElsewhere(world, fault) : !hasFault(world, there, fault.check);
    if (isRight) found.set(fault, surface);
  }
  return found;
}

/** Of a place that the reference theme paints by other things nothing is known there; but what its theme reads on others is no fault of its own. */
function isReadElsewhere(world: World, { case: one, check }: CaseFault): boolean {
  const ink = refKey(one.fore);
  return world.cases.some(
    (other) =>
      other.theme === one.theme &&
      other.role === one.role &&
      other.judged &&
      refKey(other.fore) === ink &&
      !hasFault(world, other, check),
  );
}

function hasFault(world: World, one: Case, check: CheckId): boolean {
  return world.faultsOf(one).some((each) => each.check === check);
}
