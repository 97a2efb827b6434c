// The same run as it would be if some changes had been made: what else is wrong is judged best there, since nobody should be sent to a step
// that is about to move, or to a token because the right one is wrong itself.
import type { Ground, Part } from '../propose/candidate.ts';
import type { Case, CaseLayer } from '../cases/case.ts';
import type { Change } from '../recolor/change.ts';
import { openGround } from '../propose/open-ground.ts';
import type { PaintRef } from '../cases/paint-ref.ts';
import { recolor } from '../recolor/recolor.ts';
import type { Recoloring } from '../recolor/recoloring.ts';
import { bothRecolorings } from '../recolor/recoloring.ts';
import { indexTable } from '../tokens/table-index.ts';
import type { Definition, TokenTable } from '../tokens/token-table.ts';
import type { CaseFault } from '../world.ts';
import { openWorld } from '../world.ts';

/** @param explained faults that the changes mend; they are gone */
export function mendedGround(
  ground: Ground,
  parts: readonly Pick<Part, 'change' | 'recoloring'>[],
  explained: ReadonlySet<CaseFault>,
): Ground {
  const { world } = ground;
  if (parts.length === 0 && explained.size === 0) return ground;
  const [first, ...rest] = parts.map((part) => part.recoloring);
  const recoloring = first === undefined ? null : rest.reduce(bothRecolorings, first);
  const index = indexTable(parts.reduce((table, { change }) => withChange(ground, table, change), world.index.table));
  const touched = new Set(recoloring?.touched);
  const cases = world.cases.map((one) =>
    withoutExplained(recoloring !== null && touched.has(one.id) ? recolored(one, recoloring) : one, world.faultsOf(one), explained),
  );
  return openGround(openWorld({ index, cases, judges: world.judges, level: world.level, answers: world.answers }), ground.exempt);
}

function withChange({ world: { index } }: Ground, table: TokenTable, change: Change): TokenTable {
  if (change.kind !== 'value' && change.kind !== 'alias') return table;
  const path = index.pathOf(change.token);
  const made = (old: Definition, theme: number): Definition => {
    // One declaration for all themes that had one in common, unless only some of them change.
    const isWhole = index.governedBy(theme, change.token).every((each) => change.themes.includes(each));
    const declared = isWhole ? old.declared : { id: `${old.declared.id} in ${change.themes.join(',')}` };
    return change.kind === 'value'
      ? { kind: 'literal', color: change.color, declared }
      : { kind: 'alias', target: index.pathOf(change.target), declared };
  };
  return {
    ...table,
    tokens: table.tokens.map((token) =>
      token.path !== path
        ? token
        : {
            ...token,
            definitions: token.definitions.map((old, theme) =>
              old === null || !change.themes.includes(theme) ? old : made(old, theme),
            ),
          },
    ),
  };
}

/** A case that is changed in part stays as it is: the other part does. */
function recolored(one: Case, change: Recoloring): Case {
  if ((change.partOf?.(one) ?? 1) < 1) return one;
  const after = recolor(one, change);
  const [pair] = after.kind === 'pairs' ? after.pairs : [];
  if (after.kind !== 'pairs' || pair === undefined) return one;
  const cleared = change.clears?.(one);
  const ref = (old: PaintRef, at: number): PaintRef => {
    const color = change.colorOf(one, at);
    if (color === undefined || color === null) return old;
    return old.kind === 'stale' ? { kind: 'token', token: old.token, alpha: old.alpha, color, inferred: false } : { ...old, color };
  };
  return {
    ...one,
    fore: ref(one.fore, -1),
    foreOpacity: change.opacityOf?.(one) ?? one.foreOpacity,
    back: one.back.map((layer, at): CaseLayer => ({ ...layer, ref: ref(layer.ref, at) })),
    filters: cleared === undefined ? one.filters : one.filters.filter(({ selector }) => selector !== cleared),
    seenFore: pair.fore,
    seenBacks: after.pairs.map(({ back }) => back),
  };
}

function withoutExplained(one: Case, faults: readonly CaseFault[], explained: ReadonlySet<CaseFault>): Case {
  const gone = new Set(faults.flatMap((fault) => (explained.has(fault) ? [fault.check] : [])));
  return gone.size === 0 ? one : { ...one, findings: new Map([...one.findings].filter(([check]) => !gone.has(check))) };
}
