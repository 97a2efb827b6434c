// Doubts about views → criteria; asked always, listed where there is one.
import type { GateCriteria } from '../plan/configuration.ts';
import type { AlikePages, Doubt, ThinView } from './doubts.ts';
import { placeOf } from './place-of.ts';
import type { Criterion } from './verdict.ts';
import { counted, listed } from './words.ts';

const MOST_LINKS = 5;

export function doubtCriteria(
  doubts: readonly Doubt[],
  { alike = 0, thin = 0 }: Pick<GateCriteria, 'alike' | 'thin'>,
): readonly Criterion[] {
  const pages = doubts.filter((doubt) => doubt.kind === 'alike');
  const views = doubts.filter((doubt) => doubt.kind === 'thin');
  return [
    ...(pages.length === 0 ? [] : [alikeCriterion(pages, alike)]),
    ...(views.length === 0 ? [] : [thinCriterion(views, thin)]),
  ];
}

function alikeCriterion(doubts: readonly AlikePages[], most: number): Criterion {
  const sets = [...new Set(doubts.map(({ pages }) => listed(pages)))];
  const count = new Set(doubts.flatMap(({ pages }) => pages)).size;
  const met = count <= most;
  return {
    id: 'pages-alike',
    name: 'Pages differ',
    met,
    needed: most === 0 ? 'no two with the same picture' : `at most ${counted(most, 'page')} with the picture of another`,
    found: `${sets.join('; ')} look the same: is this a sign-in, an error page or nothing at all?`,
    distance: Math.max(0, count - most),
    step: met ? '' : 'look at one; pages that lead to one address say so (lands)',
    links: doubts.slice(0, MOST_LINKS).map(({ view, pages }) => ({
      kind: 'view',
      id: view.id,
      label: `${view.id}: looks like ${listed(pages.filter((page) => page !== view.page))}`,
      at: placeOf(view),
    })),
  };
}

function thinCriterion(doubts: readonly ThinView[], most: number): Criterion {
  const met = doubts.length <= most;
  return {
    id: 'views-thin',
    name: 'Views complete',
    met,
    needed: most === 0 ? 'none that shows far less than it should' : `at most ${counted(most, 'view')} that shows far less`,
    found: `${counted(doubts.length, 'view')} with far fewer places than the same page has elsewhere`,
    distance: Math.max(0, doubts.length - most),
    step: met ? '' : 'look at them and run again; where a page is meant to be so, the next night takes it as it is',
    links: doubts.slice(0, MOST_LINKS).map(({ view, samples, of, theme }) => ({
      kind: 'view',
      id: view.id,
      label: `${view.id}: ${counted(samples, 'place')}; ${theme === null ? 'the run before' : theme} had ${String(of)}`,
      at: placeOf(view),
    })),
  };
}
