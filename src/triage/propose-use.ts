// Candidates that let places of the page use another token: instead of a literal, or of a token meant for something else.
import type { Color } from '../colour/color.ts';
import { deltaE2000, deltaEOk } from '../colour/lightness.ts';
import type { Candidate, Evidence, Ground, IsOpen, Proposal } from './candidate.ts';
import { best, visibility, weigh } from './candidate.ts';
import type { Case } from './case.ts';
import type { UseSite } from './change.ts';
import { refKey } from './paint-ref.ts';
import { groundOf, groupOf } from './usage.ts';

/** Tokens tried for one place; nearest in the reference theme first. */
const MOST_TRIED = 60;
/** Above this CIEDE2000 a token is no longer similar to the literal it would replace (reference on colour §9). */
const SIMILAR = 5;
/** A literal that reads in the reference theme may be replaced by a token this far off, if that is what others use there (ours). */
const RELATED = 16;

export function proposeUse(ground: Ground, site: UseSite): Proposal {
  const key = site.side === 'fore' ? `use ${site.cases.join(',')}` : `use surface ${refKey(site.ref)} ${site.cases.join(',')}`;
  return { key, propose: (isOpen) => tryTokens(ground, isOpen, site) };
}

function tryTokens(ground: Ground, isOpen: IsOpen, site: UseSite): Candidate | null {
  const { world, usage } = ground;
  const { index } = world;
  const cases = site.cases.flatMap((id) => world.cases[id] ?? []);
  const painted = cases.filter((one) => site.side === 'fore' || one.role === 'surface');
  const shown = (painted.length > 0 ? painted : cases).toSorted((one, other) => rank(ground, one) - rank(ground, other))[0];
  if (shown === undefined) return null;
  const role = site.side === 'surface' ? 'surface' : shown.role;
  const from = site.ref;
  const current = from.kind === 'token' || from.kind === 'stale' ? from.token : -1;
  const colorNow = (theme: number): Color => (current < 0 ? from.color : (index.colorOf(theme, current) ?? from.color));
  const strange = current >= 0 && usage.isStrangeAs(role, current);
  const evidence: Evidence = strange ? { role: 'strange' } : {};
  const alone = current >= 0 && !strange && usage.waysOf(current) < 2;
  // The theme where the present colour is as meant: the reference, unless that is where it fails.
  const sound = cases.find((one) => one.theme === index.table.reference && !world.faultsOf(one).some(isOpen)) ?? null;
  const there = (sound ?? shown).theme;
  const grounds = [...new Set(cases.map(groundOf))].filter((token) => token >= 0);

  const options = [...usage.as(role).keys()].flatMap((token) => {
    const color = token === current ? null : index.colorOf(there, token);
    return color === null ? [] : [{ token, distance: deltaE2000(color, colorNow(there)) }];
  });
  options.sort((one, other) => one.distance - other.distance || one.token - other.token);
  return best(
    options.slice(0, MOST_TRIED).map(({ token, distance }) => {
      const fit = fitOf(ground, { token, current, role, grounds });
      if (fit === null) return null;
      if (current < 0 && sound !== null && distance > (fit.known ? RELATED : SIMILAR)) return null;
      const themes = [...new Set(cases.map((one) => one.theme))];
      const pairs = new Map(themes.map((theme) => [theme, [colorNow(theme), index.colorOf(theme, token)] as const]));
      const size = Math.max(...[...pairs.values()].map(([one, other]) => (other === null ? 1 : deltaEOk(one, other))));
      return weigh(ground, isOpen, {
        change: { kind: 'use', site, token },
        layer: 'usage',
        base: (current < 0 ? 0.8 : strange ? 0.7 : alone ? 1.5 : 1) + fit.cost + Math.min(0.5, distance / 40),
        size,
        evidence,
        visible: (one) => {
          const [before, after] = pairs.get(one.theme) ?? [];
          return before === undefined || after === undefined || after === null ? 1 : visibility(before, after);
        },
      });
    }),
  );
}

/** How natural a token would be here. `known`: it is used just so elsewhere. */
function fitOf(
  ground: Ground,
  place: { readonly token: number; readonly current: number; readonly role: Case['role']; readonly grounds: readonly number[] },
): { readonly cost: number; readonly known: boolean } | null {
  const { usage, world } = ground;
  const { token, current, role, grounds } = place;
  const { index } = world;
  const uses = grounds.reduce((sum, each) => sum + (usage.on(role, each).get(token) ?? 0), 0);
  const total = usage.as(role).get(token) ?? 0;
  // Much used is better than little used; never decides against a nearer colour by itself.
  const rare = 0.2 / (1 + total);
  const step = index.stepOf(token) !== null && (current < 0 || index.stepOf(current) === null) ? 0.8 : 0;
  if (uses > 0) return { cost: rare + step, known: true };
  const related = current >= 0 && groupOf(index.pathOf(token)) === groupOf(index.pathOf(current));
  if (related) return { cost: 0.15 + rare + step, known: true };
  if (usage.groundsOf(role, token) >= 3) return { cost: 0.3 + rare + step, known: true };
  return { cost: 1.2 + rare + step, known: false };
}

/** The reference theme first, then in order. */
function rank(ground: Ground, one: Case): number {
  return one.theme === ground.world.index.table.reference ? -1 : one.theme;
}
