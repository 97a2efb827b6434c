// The in-page code: one bundle, one function `call` that Node evaluates in a world of its own, where the page's changes to
// built-ins do not reach. Arguments and results are plain JSON.
import { dom, lookAnew } from './dom.ts';
import { layersBeneath } from './text/beneath.ts';
import type { Reading } from './collectors.ts';
import { collectAll } from './collectors.ts';
import { findProperties } from './styles/custom-properties.ts';
import type { Asked } from './styles/dye.ts';
import { ask, dyed } from './styles/dye.ts';
import { exploreCalls } from './explore/calls.ts';
import { allRoots, freeze } from './rest/freeze.ts';
import { identify } from './scene/identity.ts';
import { landed } from './rest/landed.ts';
import { NO_ROOT } from './reasons.ts';
import { markedPlaces } from './scene/marked-places.ts';
import { addPlaced } from './text/pseudo.ts';
import { putOn } from './styles/put-on.ts';
import { rest, scrollThrough, setTicking } from './rest/rest.ts';
import { ruled } from './scene/ruled.ts';
import { runMaker } from './text/runs.ts';
import { pageSize, readScene } from './scene/scene.ts';
import { countNodes } from './scene/shadow-trees.ts';
import { source } from './styles/source.ts';
import { act, clickPoint, heldElement, hold, toTop, undoAct } from './scene/targets.ts';
import { endWalk, holdPass, planWalk } from './scene/walk.ts';
import { movedUnderVeil, veil } from './styles/veil.ts';
import { wear } from './styles/wear.ts';
import type { PageCall, PageCalls } from './wire/wire.ts';

type Calls = { readonly [K in PageCall]: (args: PageCalls[K]['args']) => PageCalls[K]['result'] | Promise<PageCalls[K]['result']> };

/** What was collected last: later calls name its runs by index. */
let last: Reading | null = null;
/** What `dyed` reads. */
let asked: Asked = { targets: [] };

const calls: Calls = {
  ...exploreCalls,
  landed: () => landed(),
  freeze: ({ on, ticks = true }) => {
    setTicking(ticks);
    freeze(on);
    return null;
  },
  scrollThrough: ({ most }) => scrollThrough(most),
  rest,
  putOn,
  hold: ({ selector }) => hold(selector),
  planWalk: ({ kind }) => planWalk(kind),
  holdPass: ({ pass }) => holdPass(pass),
  endWalk: () => {
    endWalk();
    return null;
  },
  act: ({ kind }) => {
    act(kind);
    return null;
  },
  undoAct: ({ kind }) => {
    undoAct(kind);
    return null;
  },
  clickPoint: () => clickPoint(),
  links: () =>
    [...dom(document).querySelectorAll<HTMLAnchorElement>('a[href]')].filter((a) => !a.hasAttribute('download')).map((a) => a.href),
  toTop: () => {
    toTop();
    return null;
  },
  scrollDown: ({ topCssPx }) => {
    window.scrollTo({ top: topCssPx, left: 0, behavior: 'instant' });
    return null;
  },
  ruled: ({ selectors }) => ruled(selectors),
  size: () => pageSize(),
  source,
  countNodes: () => countNodes(allRoots()),
  collect: (args) => {
    const scene = readScene(args.within);
    last = { scene, maker: runMaker(scene, identify(scene), args.rules), args };
    return collectAll(last);
  },
  marks: ({ rules }) => markedPlaces(readScene(), rules),
  findProperties: ({ known }) => {
    const { scene, maker } = collected();
    return findProperties(known, scene, maker.identity);
  },
  ask: (args) => {
    const { scene, maker } = collected();
    asked = ask(args, scene, maker.identity);
    return null;
  },
  dyed: (args) => dyed(args, asked),
  wear,
  placePseudo: ({ placed }) => {
    const { maker } = collected();
    const before = maker.found.length;
    addPlaced(placed, maker);
    return { runs: maker.found.slice(before).map((run) => run.wire), grounds: maker.grounds.list };
  },
  beneath: ({ runs }) => {
    const { maker, scene } = collected();
    return layersBeneath(scene, maker.identity, maker.found, runs);
  },
  veil: (args) => {
    const { maker, scene } = collected();
    return veil(args.veil, scene, maker.found, args.runs);
  },
  movedUnderVeil,
};

function collected(): Reading {
  if (last === null) throw new Error('nothing was collected yet');
  return last;
}

/** @returns JSON: a string travels several times faster than an object */
export async function call<K extends PageCall>(name: K, args: PageCalls[K]['args']): Promise<string> {
  lookAnew();
  if (isRootGone()) throw new Error(NO_ROOT);
  try {
    return JSON.stringify(await calls[name](args));
  } catch (error) {
    // A page may lose it at any moment.
    if (isRootGone()) throw new Error(NO_ROOT);
    throw error;
  }
}

function isRootGone(): boolean {
  return dom(document).querySelector(':root') === null;
}

/** The n-th frame that could not be got at when the page was read last. */
export function farFrame(index: number): Element | null {
  return last?.scene.far[index]?.el ?? null;
}

/** Handed in by Node: a closed shadow tree of the page or of a frame in it. */
export { reveal } from './scene/shadow-trees.ts';

/** An element itself cannot travel: Node asks for a handle to it. */
export function held(index: number): Element | null {
  return heldElement(index);
}
