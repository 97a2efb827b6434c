// Doubts about views → criteria; asked always, listed where there is one.
import type { GateCriteria } from '../plan/configuration.ts';
import type { AlikePages, AskingView, Doubt, IdleView, LoadingView, ThinView } from './doubts.ts';
import { doubtWords } from './doubt-words.ts';
import { viewParts } from './view-parts.ts';
import type { Criterion } from './verdict.ts';
import { counted, listed } from './words.ts';

const MOST_LINKS = 5;

export function doubtCriteria(
  doubts: readonly Doubt[],
  allowed: Pick<GateCriteria, AlikePages['kind'] | Alone['kind']>,
): readonly Criterion[] {
  const pages = doubts.filter((doubt) => doubt.kind === 'alike');
  return [
    ...(pages.length === 0 ? [] : [alikeCriterion(pages, allowed.alike ?? 0)]),
    ...ALONE.flatMap((kind) => {
      const views = doubts.filter((doubt): doubt is Alone => doubt.kind === kind);
      return views.length === 0 ? [] : [viewCriterion(kind, views, allowed[kind] ?? 0)];
    }),
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
    links: linksTo(doubts),
  };
}

type Alone = ThinView | LoadingView | AskingView | IdleView;

/** In the order in which they are asked. */
const ALONE: readonly Alone['kind'][] = ['thin', 'loading', 'asking', 'idle'];

/** What each kind of doubt about a single view is called. */
const WORDS: Readonly<
  Record<
    Alone['kind'],
    {
      readonly id: string;
      readonly name: string;
      readonly none: string;
      readonly some: string;
      readonly found: string;
      readonly step: string;
    }
  >
> = {
  thin: {
    id: 'views-thin',
    name: 'Views complete',
    none: 'none that shows far less than it should',
    some: 'that shows far less',
    found: 'with far fewer places than the same page has elsewhere',
    step: 'look at them and run again; where a page is meant to be so, the next night takes it as it is',
  },
  loading: {
    id: 'views-loading',
    name: 'Views loaded',
    none: 'none that still says that it is loading',
    some: 'that still says so',
    found: 'that rested and still said that more was to come',
    step: 'find out what never came; a page that comes late names a place to wait for (waitFor)',
  },
  asking: {
    id: 'views-asking',
    name: 'Views signed in',
    none: 'none that only asks for a password',
    some: 'that only asks for a password',
    found: 'that shows little but a form that asks for a password, though the run is signed in',
    step: 'look at one: is it the page, or did the session run out? Where it is meant to ask, allow it (asking)',
  },
  idle: {
    id: 'states-idle',
    name: 'States show something',
    none: 'none in a state that looks as at rest',
    some: 'in a state that looks as at rest',
    found: 'in a state that looks as at rest, to the last pixel',
    step: 'look at one: does its click open anything, does the theme draw the state at all? A state that shows nothing is best taken out',
  },
};

function viewCriterion(kind: Alone['kind'], doubts: readonly Alone[], most: number): Criterion {
  const { id, name, none, some, found, step } = WORDS[kind];
  const met = doubts.length <= most;
  return {
    id,
    name,
    met,
    needed: most === 0 ? none : `at most ${counted(most, 'view')} ${some}`,
    found: `${counted(doubts.length, 'view')} ${found}`,
    distance: Math.max(0, doubts.length - most),
    step: met ? '' : step,
    links: linksTo(doubts),
  };
}

function linksTo(doubts: readonly Doubt[]): Criterion['links'] {
  return doubts.slice(0, MOST_LINKS).map((doubt) => ({
    kind: 'view',
    id: doubt.view.id,
    label: `${doubt.view.id}: ${doubtWords(doubt)}`,
    at: viewParts(doubt.view),
  }));
}
