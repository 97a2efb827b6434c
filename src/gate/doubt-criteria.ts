// Doubts about views → criteria; asked always, listed where there is one.
import type { GateCriteria } from '../plan/configuration.ts';
import type { AlikePages, Doubt, LoadingView, ThinView } from './doubts.ts';
import { doubtWords } from './doubt-words.ts';
import { placeOf } from './place-of.ts';
import type { Criterion } from './verdict.ts';
import { counted, listed } from './words.ts';

const MOST_LINKS = 5;

export function doubtCriteria(
  doubts: readonly Doubt[],
  { alike = 0, thin = 0, loading = 0 }: Pick<GateCriteria, 'alike' | 'thin' | 'loading'>,
): readonly Criterion[] {
  const pages = doubts.filter((doubt) => doubt.kind === 'alike');
  const views = doubts.filter((doubt) => doubt.kind === 'thin');
  const waiting = doubts.filter((doubt) => doubt.kind === 'loading');
  return [
    ...(pages.length === 0 ? [] : [alikeCriterion(pages, alike)]),
    ...(views.length === 0 ? [] : [thinCriterion(views, thin)]),
    ...(waiting.length === 0 ? [] : [loadingCriterion(waiting, loading)]),
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
    links: doubts.slice(0, MOST_LINKS).map((doubt) => ({
      kind: 'view',
      id: doubt.view.id,
      label: `${doubt.view.id}: ${doubtWords(doubt)}`,
      at: placeOf(doubt.view),
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
    links: doubts.slice(0, MOST_LINKS).map((doubt) => ({
      kind: 'view',
      id: doubt.view.id,
      label: `${doubt.view.id}: ${doubtWords(doubt)}`,
      at: placeOf(doubt.view),
    })),
  };
}

function loadingCriterion(doubts: readonly LoadingView[], most: number): Criterion {
  const met = doubts.length <= most;
  return {
    id: 'views-loading',
    name: 'Views loaded',
    met,
    needed: most === 0 ? 'none that still says that it is loading' : `at most ${counted(most, 'view')} that still says so`,
    found: `${counted(doubts.length, 'view')} that rested and still said that more was to come`,
    distance: Math.max(0, doubts.length - most),
    step: met ? '' : 'find out what never came; a page that comes late names a place to wait for (waitFor)',
    links: doubts.slice(0, MOST_LINKS).map((doubt) => ({
      kind: 'view',
      id: doubt.view.id,
      label: `${doubt.view.id}: ${doubtWords(doubt)}`,
      at: placeOf(doubt.view),
    })),
  };
}
