// A surface takes another token: which of the things drawn on it must change with it, and to what?
import type { Color } from '../../colour/color.ts';
import { opaque } from '../../colour/color.ts';
import { contrastRatio } from '../../colour/contrast-ratio.ts';
import type { Ground, IsOpen } from '../propose/candidate.ts';
import type { Case } from '../cases/case.ts';
import type { InkUse, UseSite } from './change.ts';
import { compositeFore } from './composite-layers.ts';
import { appendTo } from '../counting.ts';
import { MARGIN } from './judge.ts';
import { isOwn } from './make-recoloring.ts';
import { isCalledFor } from '../cases/name-words.ts';
import { madeFor, saysTheSame, wordsMeant } from '../propose/named-for.ts';
import { FOREIGN, isForeignTo, namesOfPlace } from '../propose/foreign-name.ts';
import { refKey } from '../cases/paint-ref.ts';
import type { CaseFault } from '../world.ts';
import { fitOf, hueStrain, ONE_COLOUR, seenDistance, strainOf } from '../../tokens/match/fit.ts';

/** @returns one for each paint that could no longer be read, or that has findings of its own; empty where nothing need change */
export function inksFor(
  ground: Ground,
  isOpen: IsOpen,
  panel: { readonly site: UseSite & { readonly side: 'surface' }; readonly token: number; readonly cases: readonly Case[] },
): readonly InkUse[] {
  const { world } = ground;
  const { site, token, cases } = panel;
  const groups = new Map<string, Case[]>();
  for (const one of cases) if (!isOwn(site, one) && !one.backFixed) appendTo(groups, `${one.role} ${refKey(one.fore)}`, one);
  return [...groups.values()].flatMap((group): readonly InkUse[] => {
    const [first] = group;
    if (first === undefined) return [];
    const reads = (ink: (one: Case) => Color | null): boolean =>
      group.every((one) => {
        const [color, back] = [ink(one), world.index.colorOf(one.theme, token)];
        if (color === null || back === null) return false;
        const behind = opaque(back);
        const seen = compositeFore(color, { opacity: one.foreOpacity, share: 1 }, behind);
        return contrastRatio({ ink: seen, background: behind }) >= one.required * MARGIN;
      });
    // What is wrong with a step goes with the surface that it is held against.
    const isWrong = (fault: CaseFault): boolean => isOpen(fault) && fault.check !== 'separation';
    const stays = reads((one) => one.fore.color) && !group.some((one) => world.faultsOf(one).some(isWrong));
    if (stays) return [];
    const found = bySuit(ground, group, token).find((ink) => reads((one) => world.index.colorOf(one.theme, ink)));
    const isSame = found !== undefined && first.fore.kind === 'token' && first.fore.token === found;
    return found === undefined || isSame ? [] : [{ role: first.role, from: refKey(first.fore), token: found }];
  });
}

/** What is drawn on such a surface elsewhere, best suited first: near what is drawn here in the reference theme, and often used. */
function bySuit({ usage, world: { index } }: Ground, group: readonly Case[], surface: number): readonly number[] {
  const { reference } = index.table;
  const there = group.find(({ theme }) => theme === reference);
  const [shown = there] = group;
  if (shown === undefined) return [];
  // On a surface that nobody uses yet nothing was seen: what is drawn so on others is all there is to go by.
  const met = usage.on(shown.role, surface);
  const on = met.size > 0 ? met : usage.as(shown.role);
  const most = Math.max(0, ...on.values());
  const distanceOf = (ink: number): number | null => {
    const color = there === undefined ? null : index.colorOf(there.theme, ink);
    return there === undefined || color === null ? null : seenDistance(color, there.fore.color, there.seenBacks);
  };
  const idle =
    shown.fore.kind === 'literal'
      ? usage.idleAs(shown.role).filter((ink) => !on.has(ink) && (distanceOf(ink) ?? 9) <= ONE_COLOUR)
      : [];
  const names = namesOfPlace(shown);
  const meant = wordsMeant(index, shown);
  const made = madeFor(index, surface);
  const strain = (ink: number, uses: number): number => {
    const fit = fitOf({
      ...{
        uses,
        most,
        isPartner: false,
        isRelated: false,
        isIdle: uses === 0,
        isOtherRamp: false,
        grounds: usage.groundsOf(shown.role, ink),
      },
      isBareStep: index.stepOf(ink) !== null,
    });
    const distance = distanceOf(ink);
    const color = there === undefined ? null : index.colorOf(there.theme, ink);
    const foreign = isForeignTo(index, ink, { ref: shown.fore, names }) ? FOREIGN : 0;
    if (there === undefined || color === null || distance === null) return fit.cost + foreign;
    return strainOf(fit, distance, true) + hueStrain(there.fore.color, color, false) + foreign;
  };
  return [...on, ...idle.map((ink) => [ink, 0] as const)]
    .filter(([ink]) => saysTheSame(index, ink, meant))
    .map(([ink, uses]) => ({
      ink,
      uses,
      strain: made.has(ink) ? 0 : strain(ink, uses),
      called: isCalledFor(shown.role, index.pathOf(ink)),
    }))
    .toSorted(
      (one, other) =>
        one.strain - other.strain || other.uses - one.uses || Number(other.called) - Number(one.called) || one.ink - other.ink,
    )
    .map(({ ink }) => ink);
}
