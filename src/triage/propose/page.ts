// Candidates that take something away from the page (an opacity, the colour of a shadow, a filter) or draw what it lacks (what shows focus, an
// outline); and the one that builds it anew.
import type { Ground, IsOpen, Proposal, Weighing } from './candidate.ts';
import { best, openWeighing, partOf } from './candidate.ts';
import type { CauseLayer } from '../../samples/finding.ts';
import type { WrittenPlace } from '../../samples/paint.ts';
import type { Case } from '../cases/case.ts';
import { mayServeAs } from '../cases/name-words.ts';
import type { Change, UseSite } from '../recolor/change.ts';
import { isForeignTo, namesOfPlace } from './foreign-name.ts';

/** That the page differs from its files is an observation, not a guess. */
const REBUILD_BASE = 0.3;
const STYLE_BASE = 0.9;
/** That nothing at all shows focus is seen, not guessed. */
const INDICATOR_BASE = 0.4;
/** One filter that explains a whole theme is the plainest of all. */
const FILTER_BASE = 0.4;

export function proposeRebuild(ground: Ground, token: number, themes: readonly number[]): Proposal {
  return {
    key: `rebuild ${token} ${themes.join(',')}`,
    propose: (isOpen) => best([plain(ground, isOpen, { kind: 'rebuild', token, themes }, 'build', REBUILD_BASE)]),
  };
}

export function proposeOpacity(ground: Ground, site: UseSite): Proposal {
  return {
    key: `opacity ${site.cases.join(',')}`,
    propose: (isOpen) => best([plain(ground, isOpen, { kind: 'opacity', site }, 'usage', STYLE_BASE)]),
  };
}

/** Alphas that are tried lie this far apart: who writes one writes it so. */
const ALPHA_STEP = 0.05;

/** The least alpha that mends what the whole colour would. @param now what is left of the token's own alpha, 0–1 */
export function proposeAlpha(ground: Ground, site: UseSite, now: number): Proposal {
  return {
    key: `alpha ${site.cases.join(',')}`,
    propose: (isOpen) => {
      const at = (alpha: number): Weighing | null => plain(ground, isOpen, { kind: 'alpha', site, alpha }, 'usage', STYLE_BASE);
      const whole = at(1);
      if (whole === null) return null;
      const steps = Array.from({ length: Math.round(1 / ALPHA_STEP) }, (_, n) => Number(((n + 1) * ALPHA_STEP).toFixed(2)));
      for (const alpha of steps) {
        const tried = alpha > now ? at(alpha) : null;
        if (tried !== null && tried.most >= whole.most) return best([tried, whole]);
      }
      return best([whole]);
    },
  };
}

/** For shadows that a declaration writes out. */
/** On dark ground nothing but black is sure to be a shadow; without any the panel might not be told from the page. */
export function proposeUnglow(ground: Ground, site: UseSite): Proposal {
  return {
    key: `unglow ${site.cases.join(',')}`,
    propose: (isOpen) => best([plain(ground, isOpen, { kind: 'unglow', site }, 'usage', STYLE_BASE)]),
  };
}

export function proposeUnfilter(
  ground: Ground,
  filter: {
    readonly selector: string;
    readonly selectors: readonly string[];
    readonly filter: string;
    readonly written: readonly WrittenPlace[];
    readonly themes: readonly number[];
    readonly cases: readonly number[];
  },
): Proposal {
  return {
    key: `filter ${filter.selector} ${filter.filter} ${filter.themes.join(',')}`,
    propose: (isOpen) => best([plain(ground, isOpen, { kind: 'filter', ...filter }, 'usage', FILTER_BASE)]),
  };
}

/** A token that others use for their focus indicators. */
export function proposeIndicator(ground: Ground, site: UseSite): Proposal {
  return {
    key: `indicator ${site.cases.join(',')}`,
    propose: (isOpen) => {
      const tokens = [...ground.usage.as('ring')].toSorted((one, other) => other[1] - one[1] || one[0] - other[0]);
      return best(tokens.map(([token]) => plain(ground, isOpen, { kind: 'indicator', site, token }, 'usage', INDICATOR_BASE)));
    },
  };
}

/** A token that others use for their outlines. */
export function proposeOutline(ground: Ground, site: UseSite, one: Case): Proposal {
  const { index } = ground.world;
  const names = namesOfPlace(one);
  const suits = (token: number): boolean =>
    mayServeAs('edge', index.pathOf(token)) && !isForeignTo(index, token, { ref: site.ref, names });
  return {
    key: `outline ${site.cases.join(',')}`,
    propose: (isOpen) => {
      const tokens = [...ground.usage.as('edge')].toSorted((one, other) => other[1] - one[1] || one[0] - other[0]);
      const tried = tokens.filter(([token]) => suits(token));
      return best(tried.map(([token]) => plain(ground, isOpen, { kind: 'outline', site, token }, 'usage', INDICATOR_BASE)));
    },
  };
}

function plain(ground: Ground, isOpen: IsOpen, change: Change, layer: CauseLayer, base: number): Weighing | null {
  // What lies under no fault and is set right along the way is hardly a bystander.
  return openWeighing(ground, isOpen, {
    parts: [partOf(ground, change, layer)],
    base,
    size: 0,
    evidence: {},
    visible: () => 0.2,
    mendsAll: false,
  });
}
