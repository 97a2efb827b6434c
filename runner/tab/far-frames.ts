// Frames of another origin, read by our code in a world of its own in their documents, and put where they lie among what was read of the
// page. Their text counts as its styles say where the picture shows the same; else it is unknown, since their text is not hidden for a
// second picture. Their colours are not traced to tokens. Below the first screen they are looked at one by one (frame-pictures.ts).
import type { World } from '../driver/page-driver.ts';
import type { Collected, FarPlace, Rules, WireFarFrame, WireGround } from '../page/wire/wire.ts';
import type { WireArea, WirePlace } from '../page/wire/places.ts';
import { pageCode } from '../page-code.ts';
import type { Viewport } from '../../src/plan/configuration.ts';
import type { Note } from '../../src/samples/note.ts';
import { framePictures } from './frame-pictures.ts';
import type { Part } from './frame-pictures.ts';
import type { Tab } from './tab.ts';

export interface WithFrames extends Collected {
  /** Frames that could not be read, or in which there is nothing to read. */
  readonly unread: readonly Note[];
  /** How those below the first screen look. */
  readonly parts: readonly Part[];
}

/** Frames in frames in frames: deeper ones are left out. */
const DEEPEST = 4;

export interface FrameWishes {
  readonly rules: Rules;
  readonly viewport: Viewport;
}

/** @param collected of the page, generated text included */
export async function withFarFrames(tab: Tab, collected: Collected, { rules, viewport }: FrameWishes): Promise<WithFrames> {
  if (collected.farFrames.length === 0) return { ...collected, unread: [], parts: [] };
  try {
    return await addFrames(tab, await tab.world.open(), collected, {
      rules,
      viewport,
      page: [collected.page.width, collected.page.height],
      depth: 1,
    });
  } finally {
    tab.driver.leaveFrames();
  }
}

/** What the browser shows in place of a document that did not come, or that forbids to be framed. */
const ERROR_PAGE = 'chrome-error:';

interface On extends FrameWishes {
  readonly page: FarPlace['page'];
  readonly depth: number;
}

async function addFrames(tab: Tab, world: World, collected: Collected, on: On): Promise<WithFrames> {
  let all: WithFrames = { ...collected, unread: [], parts: [] };
  for (const [index, far] of collected.farFrames.entries()) {
    const [, , width, height] = far.clip;
    if (width < 1 || height < 1) continue;
    try {
      const inner = on.depth > DEEPEST ? null : await open(tab, world, index);
      if (inner === null) throw new Error('no such frame');
      if (await isRefused(tab, inner)) {
        all = { ...all, unread: [...all.unread, { code: 'frame-refused', at: far.address, data: {} }] };
        continue;
      }
      const parts = on.depth === 1 ? await partsOf(tab, inner, far, on.viewport) : [];
      if (parts === null) throw new Error('not painted');
      const own = await read(tab, inner, { ...far, page: on.page }, on.rules);
      const whole = await addFrames(tab, inner, own, {
        ...on,
        depth: on.depth + 1,
      });
      all = {
        ...joined(all, far, whole),
        unread: [...all.unread, ...whole.unread],
        parts: [...all.parts, ...parts],
      };
    } catch (error) {
      if (tab.dead || tab.signal.aborted) throw error;
      all = { ...all, unread: [...all.unread, { code: 'frame-unread', at: far.address, data: {} }] };
    }
  }
  return all;
}

async function open(tab: Tab, world: World, index: number): Promise<World | null> {
  if (!tab.driver.can.has('far-frames')) return null;
  const frame = await tab.guard('finding a frame', world.frame(`__gloamPage.farFrame(${index})`));
  if (frame === null) return null;
  if ((await evaluate(tab, frame, 'typeof __gloamPage')) === 'undefined') await evaluate(tab, frame, `${await pageCode()};0`);
  return frame;
}

/** A frame that is out of view runs no frames of its own: three of them, and it was painted. */
const PAINTED = `new Promise((done)=>{setTimeout(()=>done(false),3000);requestAnimationFrame(()=>requestAnimationFrame(()=>requestAnimationFrame(()=>done(true))))})`;

/** Those in it are in view with it. */
function partsOf(
  tab: Tab,
  world: World,
  { clip }: WireFarFrame,
  viewport: FrameWishes['viewport'],
): ReturnType<typeof framePictures> {
  const { heightCssPx, scale } = viewport;
  const painted = async (): Promise<boolean> => (await evaluate(tab, world, PAINTED)) === true;
  return framePictures(tab, { clip, screenHeightCssPx: heightCssPx, scale, painted });
}

async function isRefused(tab: Tab, world: World): Promise<boolean> {
  return String(await evaluate(tab, world, 'document.documentURI')).startsWith(ERROR_PAGE);
}

async function read(tab: Tab, world: World, within: FarPlace, rules: Rules): Promise<Collected> {
  await evaluate(tab, world, '__gloamPage.call("freeze",{"on":true})');
  const text = await evaluate(tab, world, `__gloamPage.call("collect",${JSON.stringify({ rules, within })})`);
  // The text comes from our own bundle, whose functions have these very types.
  return JSON.parse(String(text)) as Collected;
}

async function evaluate(tab: Tab, world: World, expression: string): Promise<unknown> {
  const answer = await tab.guard('reading a frame', world.evaluate(expression));
  if ('thrown' in answer) throw new Error(answer.thrown);
  return answer.value;
}

/** What a frame holds, put where the frame lies. */
function joined(page: Collected, far: WireFarFrame, inner: Collected): Collected {
  const textGround = shifted(page.text.grounds.length, far.ground);
  const placeGround = shifted(page.places.grounds.length, far.placeGround);
  const grounds = (list: readonly WireGround[], ground: (index: number) => number): readonly WireGround[] =>
    list.map((each) => ({ ...each, up: ground(each.up) }));
  const placed = <P extends WirePlace>(list: readonly P[]): readonly P[] =>
    list.map((each) => ({ ...each, ground: placeGround(each.ground) }));
  const runs = inner.text.runs.map((run) => ({
    ...run,
    ground: textGround(run.ground),
    far: true as const,
  }));
  const { places } = page;
  return {
    ...page,
    page: {
      ...page.page,
      restlessPlaces: [...page.page.restlessPlaces, ...inner.page.restlessPlaces],
      masked: [...page.page.masked, ...inner.page.masked],
    },
    text: {
      ...page.text,
      grounds: [...page.text.grounds, ...grounds(inner.text.grounds, textGround)],
      runs: [...page.text.runs, ...runs],
    },
    places: {
      grounds: [...places.grounds, ...grounds(inner.places.grounds, placeGround)],
      areas: areasWith(places.areas, far, placed(inner.places.areas)),
      specks: [...places.specks, ...inner.places.specks],
      shadows: [...places.shadows, ...placed(inner.places.shadows)],
      graphics: [...places.graphics, ...placed(inner.places.graphics)],
      pictures: [...places.pictures, ...placed(inner.places.pictures)],
      targets: places.targets,
      veils: [...places.veils, ...inner.places.veils],
    },
  };
}

/** The canvas of a frame is what the frame lies on. */
function shifted(by: number, canvas: number): (index: number) => number {
  return (index) => (index === -1 ? canvas : index + by);
}

/** In painting order: what a frame holds is painted with it. */
function areasWith(areas: readonly WireArea[], { selector }: WireFarFrame, inner: readonly WireArea[]): readonly WireArea[] {
  const found = areas.findIndex((area) => area.selector === selector);
  const at = found === -1 ? areas.length : found + 1;
  const outer = areas[at - 1];
  const own = inner.map((area) => ({
    ...area,
    up: area.up === -1 ? (outer?.up ?? -1) : area.up + at,
  }));
  const after = areas.slice(at).map((area) => (area.up < at ? area : { ...area, up: area.up + inner.length }));
  return [...areas.slice(0, at), ...own, ...after];
}
