// Candidates that let a token point at another step in some themes: the declaration there is wrong, or an override is missing.
import type { Color } from '../../colour/color.ts';
import { deltaEOk } from '../../colour/lightness.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { apart, best, openWeighing, partOf, visibility } from './candidate.ts';
import type { Case } from '../cases/case.ts';
import { belies } from './named-for.ts';
import { ofTokens, openFaults } from './value.ts';
import { strangeShare } from './strange-uses.ts';
import { stepBeside } from '../tokens/numbered-steps.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** As for values: odd among its siblings is the plain explanation (ours, on planted faults). */
const BASE = { odd: 0.6, usual: 1.3, none: 1 } as const;
/** What an added override costs over changing the declaration that is there (ours). */
const OVERRIDE = 0.15;
/** As for values. */
const STRANGE_USES = 1.5;
/** Pointing where the siblings point is the better repair of two that mend alike (ours). */
const AS_SIBLINGS = 0.85;
/** What speaks against bystanders, when they are put where the siblings are (ours). */
const BACK_IN_LINE = 0.3;
/** Nobody should be sent to a step that is off its ramp's course itself. */
const SHAKY = 1.4;
/** Steps tried for a token that was a literal: so many, nearest in colour first. */
const MOST_FOR_LITERAL = 12;
/** ΔE OK to the nearest step of a ramp up to which a literal is of that ramp: two and a half times just noticeable (CSS Color 4 §13.2; ours). */
const OF_RAMP = 0.05;

export function proposeAlias(ground: Ground, token: number, themes: readonly number[]): Proposal {
  return { key: `alias ${token} ${themes.join(',')}`, propose: (isOpen) => tryTargets(ground, isOpen, token, themes) };
}

function tryTargets(ground: Ground, isStillOpen: IsOpen, token: number, themes: readonly number[]): Candidate | null {
  const isOpen = ofTokens(isStillOpen);
  const { index } = ground.world;
  const [theme = -1] = themes;
  const before = new Map(themes.map((each) => [each, index.colorOf(each, token)]));
  const faults = openFaults(ground, isOpen, token, themes);
  const opinion = ground.siblings.opinionOf(theme, token);
  const evidence: Evidence = {
    ...(opinion.odd ? { siblings: 'odd' } : opinion.usual ? { siblings: 'usual' } : {}),
    ...(opinion.because === 'none' ? {} : { because: opinion.because }),
  };
  const governed = index.governedBy(theme, token);
  const base =
    BASE[evidence.siblings ?? 'none'] +
    (themes.length < governed.length && !opinion.odd ? OVERRIDE : 0) +
    STRANGE_USES * strangeShare(ground, faults, token);
  const current = index.rootOf(theme, token);
  // What must keep its tone stands in every theme where it does in the reference.
  const expected = faults.some(({ case: one }) => one.facts.stay !== undefined && paints(index, one, token))
    ? [index.rootOf(index.table.reference, token), ...opinion.expected]
    : opinion.expected;
  const [preferred] = expected;
  const pointsAt = index.definitionOf(theme, token);
  return best(
    targetsOf(ground, token, theme, expected).map((step) => {
      if (step === current || step === token) return null;
      // What points at a step of a family stays with it.
      const target = pointsAt?.kind === 'alias' ? stepBeside(index, step, pointsAt.target, themes) : step;
      const colors = themes.map((each) => [before.get(each) ?? null, index.colorOf(each, target)] as const);
      if (colors.some(([, after]) => after === null)) return null;
      if (!opinion.odd && colors.some(([from, to]) => from !== null && to !== null && belies(index, token, { from, to })))
        return null;
      const size = Math.max(...colors.map(([one, other]) => (one === null || other === null ? 1 : apart(one, other))));
      const inLine = opinion.odd && opinion.expected.includes(step) ? BACK_IN_LINE : 1;
      const seen = new Map(themes.map((each, at) => [each, seenBetween(colors[at]) * inLine]));
      return openWeighing(ground, isOpen, {
        parts: [partOf(ground, { kind: 'alias', token, themes, target }, 'token')],
        base: base * (step === preferred ? AS_SIBLINGS : 1) * (isShaky(ground, theme, target) ? SHAKY : 1),
        size,
        evidence,
        visible: (one) => seen.get(one.theme) ?? 1,
      });
    }),
  );
}

function paints(index: TableIndex, one: Case, token: number): boolean {
  return one.fore.kind === 'token' && index.chainOf(one.theme, one.fore.token).includes(token);
}

function isShaky(ground: Ground, theme: number, target: number): boolean {
  return ground.trend.courseOf(theme, ground.world.index.rootOf(theme, target))?.odd === true;
}

function seenBetween(pair: readonly [Color | null, Color | null] | undefined): number {
  const [one, other] = pair ?? [null, null];
  return one === null || other === null ? 1 : visibility(one, other);
}

/** Steps of the ramps it stands on in any theme, what the siblings suggest; for a literal the steps nearest in colour. */
function targetsOf(ground: Ground, token: number, theme: number, expected: readonly number[]): readonly number[] {
  const { index } = ground.world;
  const ramps = new Set<number>();
  index.table.themes.forEach((_, each) => {
    const step = index.stepOf(index.rootOf(each, token));
    if (step !== null) ramps.add(step.ramp);
  });
  const found = new Set([...expected, ...[...ramps].sort((a, b) => a - b).flatMap((ramp) => index.stepsOf(ramp))]);
  const color = index.colorOf(theme, token);
  const isLiteral = index.definitionOf(theme, token)?.kind === 'literal';
  if (isLiteral && color !== null) {
    const near = index.table.ramps
      .flatMap((_, ramp) => index.stepsOf(ramp))
      .flatMap((step) => {
        const there = index.colorOf(theme, step);
        return there === null ? [] : [{ step, ramp: index.stepOf(step)?.ramp, distance: deltaEOk(there, color) }];
      })
      .sort((one, other) => one.distance - other.distance);
    // A set that writes its colours out points at nothing, unless it is the ramp that the colour is of.
    const most = isWrittenOut(index, token) ? OF_RAMP : Infinity;
    const own = new Set(near.flatMap(({ ramp, distance }) => (distance <= most ? [ramp] : [])));
    for (const { step, ramp } of near.slice(0, MOST_FOR_LITERAL)) if (own.has(ramp)) found.add(step);
  }
  // A token must not come to point at itself, nor at what is no colour by itself.
  return [...found].filter(
    (target) => !index.chainOf(theme, target).includes(token) && index.table.tokens[target]?.isBare !== true,
  );
}

/** In every theme. */
function isWrittenOut({ table, definitionOf }: TableIndex, token: number): boolean {
  return table.themes.every((_, theme) => definitionOf(theme, token)?.kind !== 'alias');
}
