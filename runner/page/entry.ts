// The in-page code: one bundle, one function `call` that Node evaluates in a world of its own, where the page's changes to
// built-ins do not reach. Arguments and results are plain JSON.
import { collectors } from './collectors.ts';
import { freeze } from './freeze.ts';
import { identify } from './identity.ts';
import { putOn } from './put-on.ts';
import { rest, scrollThrough } from './rest.ts';
import { readScene } from './scene.ts';
import { act, clickPoint, heldElement, hold, toTop, undoAct } from './targets.ts';
import type { Collected, PageCall, PageCalls } from './wire.ts';

type Calls = { readonly [K in PageCall]: (args: PageCalls[K]['args']) => PageCalls[K]['result'] | Promise<PageCalls[K]['result']> };

const calls: Calls = {
  freeze: ({ on }) => {
    freeze(on);
    return null;
  },
  scrollThrough: ({ most }) => scrollThrough(most),
  rest,
  putOn,
  hold: ({ selector }) => hold(selector),
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
    [...document.querySelectorAll<HTMLAnchorElement>('a[href]')].filter((a) => !a.hasAttribute('download')).map((a) => a.href),
  toTop: () => {
    toTop();
    return null;
  },
  collect: (args) => {
    const scene = readScene();
    const identity = identify(scene);
    const collected: Collected = {
      page: collectors.page(scene),
      text: collectors.text(scene, identity, args),
    };
    return collected;
  },
};

/** @returns JSON: a string travels several times faster than an object */
export async function call<K extends PageCall>(name: K, args: PageCalls[K]['args']): Promise<string> {
  return JSON.stringify(await calls[name](args));
}

/** An element itself cannot travel: Node asks for a handle to it. */
export function held(index: number): Element | null {
  return heldElement(index);
}
