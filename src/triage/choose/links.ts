// Looks up how cases hang together: by the elements they lie on, the surface, the literal.
import type { Ground } from '../propose/candidate.ts';
import { appendTo, ascending } from '../counting.ts';
import { isContrast } from '../propose/gap.ts';
import { repeatedSteps } from '../tokens/numbered-steps.ts';
import type { Links } from '../propose/propose.ts';
import { groundKey, groundOfParted, literalKey } from '../propose/propose.ts';
import type { CaseFault } from '../world.ts';

export function openLinks(ground: Ground, isStale: Links['isStale']): Links {
  const { world } = ground;
  const faultsOn = new Map<string, CaseFault[]>();
  for (const fault of world.faults) if (isContrast(fault)) appendTo(faultsOn, groundKey(world.index, fault.case), fault);
  const partedOn = new Map<string, Set<string>>();
  for (const { check, case: one } of world.faults) {
    if (check !== 'separation') continue;
    const families = partedOn.get(groundOfParted(one)) ?? new Set();
    partedOn.set(groundOfParted(one), families.add(one.family));
  }
  const sameLiteral = new Map<string, number[]>();
  const byElement = new Map<number, number[]>();
  // Only elements of failing places are ever asked for.
  const asked = new Set<number>();
  for (const { case: one } of world.faults) {
    for (const element of one.elements) asked.add(element);
    if (one.role !== 'surface') for (const element of one.grounds) asked.add(element);
  }
  for (const one of world.cases) {
    if (one.fore.kind === 'literal') appendTo(sameLiteral, literalKey(one), one.id);
    for (const element of one.role === 'surface' ? [...one.elements, ...one.grounds] : one.grounds) {
      if (asked.has(element)) appendTo(byElement, element, one.id);
    }
  }
  return {
    ground,
    isStale,
    faultsOn,
    sameLiteral,
    partedOn,
    repeatedSteps: repeatedSteps(world.index),
    triedForAll: new Map(),
    casesOn: (elements) => ascending([...elements].flatMap((element) => byElement.get(element) ?? [])),
  };
}
