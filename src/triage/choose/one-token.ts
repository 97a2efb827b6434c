// A declaration takes one token in all themes: where each theme's colour of it was given its own, one of them that does for all is taken.
import { ownRules } from '../cases/own-rules.ts';
import { partOf } from '../propose/candidate.ts';
import type { Ground, Part } from '../propose/candidate.ts';
import type { Change } from '../recolor/change.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { evaluate } from './evaluate.ts';
import type { RuledExplanation, Variant } from './split-by-rule.ts';

type Use = Part & { readonly change: Change & { readonly kind: 'use' } };

/** @returns as it was, the first theme's colour first, where no single token mends all of it and breaks nothing */
export function withOneToken(ground: Ground, explanation: RuledExplanation): RuledExplanation {
  const { changes, faults, variants } = explanation;
  const uses = changes.filter(isUse);
  if (uses.length < 2 || uses.length < changes.length || !isOneDeclaration(variants)) return explanation;
  const themeOf = ({ change: { site } }: Use): number =>
    Math.min(...site.cases.map((id) => ground.world.cases[id]?.theme ?? Infinity));
  const inOrder = uses.toSorted((one, other) => themeOf(one) - themeOf(other));
  for (const token of new Set(uses.map(({ change }) => change.token))) {
    const same = new Map<Part, Part>(inOrder.map((part) => [part, withToken(ground, part, token)]));
    const { mended, broken } = evaluate(
      ground.world,
      [...same.values()].map(({ recoloring }) => recoloring).reduce(bothRecolorings),
    );
    if (broken.length > 0 || !faults.every(({ id }) => mended.some((fault) => fault.id === id))) continue;
    return {
      ...explanation,
      changes: [...same.values()],
      variants: variants.map((variant) => ({ ...variant, part: same.get(variant.part) ?? variant.part })),
    };
  }
  return { ...explanation, changes: inOrder };
}

function isUse(part: Part): part is Use {
  return part.change.kind === 'use' && part.change.inks.length === 0;
}

function withToken(ground: Ground, part: Use, token: number): Part {
  return part.change.token === token ? part : partOf(ground, { ...part.change, token, partner: false }, part.layer);
}

/** Its own rules say the same in one place, whatever the theme makes of it. */
function isOneDeclaration(variants: readonly Variant[]): boolean {
  const places = variants.map(({ written }) =>
    JSON.stringify(ownRules(written).map(({ file, line, column, property }) => [file, line, column, property])),
  );
  return new Set(places).size === 1 && variants.every(({ written: [first] }) => first?.line !== undefined);
}
