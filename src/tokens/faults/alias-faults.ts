// Aliases that point elsewhere than their siblings': to another hue family, off the ramps, or to a step out of line. Judged between
// each theme and the reference, by what most tokens do there, and between themes that are near relatives.
import type { TokenGraph } from '../graph.ts';
import { groupBy } from '../group-by.ts';
import type { Role, RolesOf } from '../roles.ts';
import { mainRole } from '../roles.ts';
import type { DefinitionView, ThemeDefinition } from './definition-view.ts';
import { definitionViews } from './definition-view.ts';
import { relativeFaults } from './relative-themes.ts';
import type { FaultFacts } from './token-fault.ts';
import { listed, mergeThemes } from './token-fault.ts';

export interface AliasOptions {
  /** At least so many tokens must go from one family to another, or from one step to another, to set the rule. */
  readonly leastWitnesses?: number;
  /** Share of them that must agree. */
  readonly witnessShare?: number;
  /** Steps off the rule that are too many. */
  readonly stepsOff?: number;
  /** Themes are relatives when their aliases differ by at most so many steps on average. */
  readonly relativeSteps?: number;
}

/** Ours: neighbouring steps are a matter of taste, three steps are another lightness; three tokens of four make a rule. */
export const ALIAS_DEFAULTS = {
  leastWitnesses: 3,
  witnessShare: 0.75,
  stepsOff: 3,
  relativeSteps: 0.5,
} as const satisfies Required<AliasOptions>;

/** A token that is an alias in the theme, and ends on a ramp in the reference. */
interface Mapped {
  readonly view: DefinitionView;
  /** It has a definition of its own in the theme. */
  readonly own: boolean;
  readonly role: Role | null;
  readonly from: Step;
  /** null: off the ramps. */
  readonly to: Step | null;
  readonly toToken: string;
}

interface Step {
  readonly path: string;
  readonly family: string;
  readonly index: number;
  readonly length: number;
}

/** @param roles from runs; tokens of different roles then do not bear witness for each other */
export function aliasFaults(
  graph: TokenGraph,
  reference: string,
  options: AliasOptions = {},
  roles: RolesOf = new Map(),
): readonly FaultFacts[] {
  const settings: Required<AliasOptions> = { ...ALIAS_DEFAULTS, ...options };
  const views = definitionViews(graph);
  const roleOf = roleOrSiblings(views, roles);
  const faults = graph.themes.flatMap((theme) => {
    if (theme === reference) return [];
    const mapped = mapBetween(views, reference, theme, roleOf);
    return [...otherFamilies(mapped, theme, reference, settings), ...outOfLine(mapped, theme, reference, settings)];
  });
  const named = new Set(faults.flatMap(({ token, themes }) => themes.map((theme) => `${theme} ${token}`)));
  const more = relativeFaults(graph.themes, views, settings).filter(
    ({ token, themes }) => !themes.some((theme) => named.has(`${theme} ${token}`)),
  );
  return mergeThemes([...faults, ...more]);
}

function mapBetween(
  views: readonly DefinitionView[],
  reference: string,
  theme: string,
  roleOf: ReturnType<typeof roleOrSiblings>,
): readonly Mapped[] {
  return views.flatMap((view): readonly Mapped[] => {
    const [there, here] = [view.inTheme.get(reference), view.inTheme.get(theme)];
    const from = there === undefined ? null : stepOf(there);
    if (there === undefined || here === undefined || from === null || !here.aliases) return [];
    const own = here.governor !== there.governor;
    return [{ view, own, role: roleOf(view), from, to: stepOf(here), toToken: here.step }];
  });
}

/** What runs did not meet has the role of its group, where all that they met of that has one. */
function roleOrSiblings(views: readonly DefinitionView[], roles: RolesOf): (view: DefinitionView) => Role | null {
  const met = groupBy(
    views.flatMap(({ group, path }) => {
      const role = mainRole(roles, path);
      return role === null ? [] : [{ group, role }];
    }),
    ({ group }) => group,
  );
  const shared = new Map(
    [...met].map(([group, all]) => [group, all.every(({ role }) => role === all[0]?.role) ? (all[0]?.role ?? null) : null]),
  );
  return ({ group, path }) => mainRole(roles, path) ?? shared.get(group) ?? null;
}

function stepOf({ step, ramp }: ThemeDefinition): Step | null {
  return ramp === null ? null : { path: step, ...ramp };
}

/** Most tokens of a family go to one family in the theme; this one goes to another, or off the ramps. */
function otherFamilies(
  mapped: readonly Mapped[],
  theme: string,
  reference: string,
  settings: Required<AliasOptions>,
): readonly FaultFacts[] {
  return [...groupBy(mapped, ({ from }) => from.family)].flatMap(([family, tokens]) => {
    const [most] = [...groupBy(tokens, familyAfter)].sort((a, b) => b[1].length - a[1].length);
    if (most === undefined || most[0] === '') return [];
    const [rule, witnesses] = most;
    if (witnesses.length < settings.leastWitnesses || witnesses.length < settings.witnessShare * tokens.length) return [];
    const odd = tokens.filter((token) => familyAfter(token) !== rule);
    // A whole group that goes elsewhere together does so on purpose.
    const together = groupBy(odd, (token) => `${familyAfter(token)} ${token.view.group}`);
    const alone = odd.filter((token) => together.get(`${familyAfter(token)} ${token.view.group}`)?.length === 1);
    return alone
      .filter(({ own }) => own)
      .map(({ view, from, to, toToken }) => ({
        code: 'alias-other-family',
        token: view.path,
        others: [from.path, toToken],
        themes: [theme],
        measured: { family: to?.family ?? 'none', target: toToken },
        expected: { family: rule, witnesses: witnesses.length },
        message: `${view.path} goes from ${from.path} in ${reference} to ${toToken} in ${theme}${to === null ? ', which is no step of a ramp' : ''}; ${String(witnesses.length)} of ${String(tokens.length)} tokens on ${family} ${rule === family ? 'stay with it' : `go to ${rule}`}.`,
      }));
  });
}

function familyAfter({ to }: Mapped): string {
  return to?.family ?? '';
}

/** Tokens on the same place of a ramp go to neighbouring places in the theme; this one goes far from there. */
function outOfLine(
  mapped: readonly Mapped[],
  theme: string,
  reference: string,
  settings: Required<AliasOptions>,
): readonly FaultFacts[] {
  // A step that is stated again for the theme, and the same, was meant.
  const turned = mapped.filter(({ own, from, to }) => own && to?.path !== from.path);
  const bySpot = spotsOf(turned);
  const odd = turned.flatMap((token) => {
    const spot = bySpot.get(spotOf(token));
    const rule = spot === undefined ? null : ruleFor(token, spot, settings);
    return rule === null ? [] : [{ token, ...rule }];
  });
  const inGroup = groupBy(mapped, ({ view }) => view.group);
  const oddInGroup = groupBy(odd, ({ token }) => token.view.group);
  return odd.flatMap(({ token, agree, middle }): readonly FaultFacts[] => {
    const siblings = (inGroup.get(token.view.group)?.length ?? 1) - 1;
    const oddSiblings = (oddInGroup.get(token.view.group)?.length ?? 1) - 1;
    // A group most of which keeps its own counsel (surfaces that stay light, say) does so on purpose.
    if (oddSiblings * 2 >= siblings && oddSiblings > 0) return [];
    const steps = [...new Set(agree.flatMap(({ to }) => to?.path ?? []))].sort();
    return [
      {
        code: 'alias-out-of-line',
        // Without roles a surface and a text on one step look like siblings, though they part in another theme.
        level: token.role === null ? 'note' : 'warning',
        token: token.view.path,
        others: steps,
        themes: [theme],
        measured: { step: token.toToken, index: token.to?.index ?? 'none' },
        expected: { index: middle, witnesses: agree.length },
        message: `${token.view.path} is ${token.from.path} in ${reference} and ${token.toToken} in ${theme}; ${listed(agree.map(({ view }) => view.path))}, on the same step of their ramps in ${reference}, go to ${listed(steps)}.`,
      },
    ];
  });
}

/** Tokens of one role from the same place of equally long ramps bear witness for each other. */
function spotOf({ from, role }: Mapped): string {
  return `${role ?? ''} ${String(from.index)} ${String(from.length)}`;
}

/** Where tokens from the same place go, if they agree and this one does not. @param sameSpot this one among them */
function ruleFor(
  token: Mapped,
  sameSpot: Spot,
  settings: Required<AliasOptions>,
): { readonly agree: readonly Mapped[]; readonly middle: number } | null {
  const { to, from } = token;
  if (to === null || to.length !== from.length || sameSpot.tokens.length <= settings.leastWitnesses) return null;
  const indexes = sameSpot.sorted.get(to.length) ?? [];
  if (indexes.length - 1 < settings.leastWitnesses) return null;
  const middle = medianWithout(indexes, to.index);
  // Most tokens end here: who agrees is looked for only where one does not.
  if (Math.abs(to.index - middle) < settings.stepsOff) return null;
  const agree = sameSpot.tokens.filter(
    (each) => each !== token && each.to?.length === to.length && Math.abs(each.to.index - middle) <= 1,
  );
  return agree.length < settings.witnessShare * (indexes.length - 1) ? null : { agree, middle };
}

/** Tokens from one place of their ramps, and where they go: indexes in order, by length of the ramp they go to. */
interface Spot {
  readonly tokens: readonly Mapped[];
  readonly sorted: ReadonlyMap<number, readonly number[]>;
}

function spotsOf(mapped: readonly Mapped[]): ReadonlyMap<string, Spot> {
  return new Map(
    [...groupBy(mapped, spotOf)].map(([spot, tokens]) => {
      const goals = tokens.flatMap(({ to }) => to ?? []);
      const sorted = [...groupBy(goals, ({ length }) => length)].map(
        ([length, to]) => [length, to.map(({ index }) => index).sort((a, b) => a - b)] as const,
      );
      return [spot, { tokens, sorted: new Map(sorted) }];
    }),
  );
}

/** Median of all but one of these. @param sorted holds `one` @returns NaN where there is no other */
function medianWithout(sorted: readonly number[], one: number): number {
  const place = sorted.indexOf(one);
  const at = (i: number): number => sorted[i < place ? i : i + 1] ?? NaN;
  const middle = (sorted.length - 1) / 2;
  return (at(Math.ceil(middle) - 1) + at(Math.floor(middle))) / 2;
}
