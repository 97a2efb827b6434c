// The in-page code: one bundle, one function `call` that Node evaluates in a world of its own, where the page's changes to
// built-ins do not reach. Arguments and results are plain JSON.
import { dom, lookAnew } from './dom.ts';
import { layersBeneath } from './text/beneath.ts';
import { collectAll } from './collectors.ts';
import { findProperties } from './styles/custom-properties.ts';
import { ask, dyed } from './styles/dye.ts';
import { exploreCalls } from './explore/calls.ts';
import { allRoots } from './rest/freeze.ts';
import { identify } from './scene/identity.ts';
import { landed } from './rest/landed.ts';
import { NO_ROOT } from './reasons.ts';
import { markedPlaces } from './scene/marked-places.ts';
import { addPlaced } from './text/pseudo.ts';
import { rest, scrollThrough } from './rest/rest.ts';
import { shownContent } from './scene/shown-content.ts';
import { ruled } from './scene/ruled.ts';
import { runMaker } from './text/runs.ts';
import { pageSize, readScene } from './scene/scene.ts';
import { collectedIn, openSession } from './session.ts';
import { countNodes } from './scene/shadow-trees.ts';
import { parsed, rulesBehind } from './styles/rules-behind.ts';
import { source } from './styles/source.ts';
import { find } from './scene/targets.ts';
import type { PageCall, PageCalls } from './wire/wire.ts';

type Calls = { readonly [K in PageCall]: (args: PageCalls[K]['args']) => PageCalls[K]['result'] | Promise<PageCalls[K]['result']> };

const session = openSession();
const { wardrobe, targets, walk, stillness, worn } = session;

const calls: Calls = {
  ...exploreCalls,
  landed: () => landed(),
  shownContent: ({ whatever }) => shownContent(whatever),
  freeze: ({ on, ticks = true }) => {
    session.pace = { ticks };
    if (on) stillness.hold();
    else stillness.release();
    return null;
  },
  scrollThrough: (args) => scrollThrough(args, session.pace),
  rest: (args) => rest(args, stillness, session.pace),
  putOn: (theme) => wardrobe.putOn(theme),
  hold: ({ selector }) => targets.hold(find(selector)),
  planWalk: ({ kind }) => walk.plan(kind),
  holdPass: ({ pass }) => targets.hold(walk.pass(pass)),
  endWalk: () => {
    walk.end();
    return null;
  },
  act: ({ kind }) => {
    targets.act(kind);
    return null;
  },
  undoAct: ({ kind }) => {
    targets.undo(kind);
    return null;
  },
  clickPoint: () => targets.clickPoint(),
  watchPress: () => {
    targets.watchPress();
    return null;
  },
  wasPressed: () => targets.wasPressed(),
  clickByScript: () => {
    targets.clickByScript();
    return null;
  },
  links: () =>
    [...dom(document).querySelectorAll<HTMLAnchorElement>('a[href]')].filter((a) => !a.hasAttribute('download')).map((a) => a.href),
  toTop: () => {
    window.scrollTo({ top: 0, left: 0, behavior: 'instant' });
    return null;
  },
  scrollDown: ({ topCssPx }) => {
    window.scrollTo({ top: topCssPx, left: 0, behavior: 'instant' });
    return null;
  },
  ruled: ({ selectors }) => ruled(selectors),
  size: () => pageSize(),
  source: ({ origin }) => source(origin, stillness.sheets()),
  rulesBehind: ({ places }) => rulesBehind(places, session.sheetReader.read(stillness.sheets())),
  parsed: (declarations) => parsed(declarations),
  countNodes: () => countNodes(allRoots()),
  collect: (args) => {
    const scene = readScene(args.within, args.downToCssPx);
    const now = targets.now();
    const maker = runMaker(scene, identify(scene), args.rules, { targets: now, walk });
    session.reading = { scene, maker, args, targets: now };
    return collectAll(session.reading);
  },
  marks: ({ rules }) => markedPlaces(readScene(), rules),
  findProperties: ({ known }) => {
    const { scene, maker } = collectedIn(session);
    return findProperties(known, scene, maker.identity);
  },
  ask: (args) => {
    const { scene, maker } = collectedIn(session);
    session.asked = ask(args, scene, maker.identity);
    return null;
  },
  dyed: (args) => dyed(args, session.asked),
  wear: (args) => worn.wear(args),
  placePseudo: ({ placed }) => {
    const { maker } = collectedIn(session);
    const before = maker.found.length;
    addPlaced(placed, maker);
    return { runs: maker.found.slice(before).map((run) => run.wire), grounds: maker.grounds.list };
  },
  beneath: ({ runs }) => {
    const { maker, scene } = collectedIn(session);
    return layersBeneath(scene, maker.identity, maker.found, runs);
  },
  veil: ({ veil, runs }) => {
    const { maker, scene } = collectedIn(session);
    return session.veil.put(veil, scene, maker.found, runs);
  },
  movedUnderVeil: () => session.veil.moved(),
};

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
  return session.reading?.scene.far[index]?.el ?? null;
}

/** Handed in by Node: a closed shadow tree of the page or of a frame in it. */
export { reveal } from './scene/shadow-trees.ts';

/** An element itself cannot travel: Node asks for a handle to it. */
export function held(index: number): Element | null {
  return targets.held(index);
}
