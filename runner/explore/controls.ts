// Uses the controls that look like theme switches and finds out what they set: attributes, classes, stored entries, cookies, the query.
import type { ThemeApply } from '../../src/plan/configuration.ts';
import { themeName } from './candidates.ts';
import { difference, look } from './look.ts';
import type { Look } from './look.ts';
import type { Tried } from './themes.ts';
import type { ExploringTab } from './tab.ts';
import type { WireControl, WireTraces } from '../page/wire/explore.ts';
import { settleAfterChange, settleAfterLoad } from '../theme/settle.ts';

/** Two looks this close are one (as in explore-themes.ts); a control that changes less is no theme switch. */
const SAME = 0.01;
const CHANGED = 0.04;
/** A button that goes through the themes is pressed this often at most. */
const MOST_PRESSES = 4;
export const MOST_CONTROLS = 8;
const MOST_VALUES = 12;

export interface ControlWish {
  readonly exploring: ExploringTab;
  readonly url: string;
  readonly base: Look;
  /** Of the page as it loads. */
  readonly controls: readonly WireControl[];
  /** False once time is up. */
  readonly goOn: () => boolean;
}

export async function tryControls(
  wish: ControlWish,
): Promise<{ readonly tried: readonly Tried[]; readonly notes: readonly string[] }> {
  const tried: Tried[] = [];
  const notes: string[] = [];
  for (const control of wish.controls) {
    const values = control.kind === 'choose' ? control.values.slice(0, MOST_VALUES) : [null];
    for (const value of values) {
      if (!wish.goOn()) return { tried, notes };
      const found = await useControl(wish, control, value);
      tried.push(...found.tried);
      notes.push(...found.notes);
    }
  }
  return { tried, notes };
}

async function useControl(
  wish: ControlWish,
  control: WireControl,
  value: string | null,
): Promise<{ readonly tried: readonly Tried[]; readonly notes: readonly string[] }> {
  const { exploring, url, base, goOn } = wish;
  const called = `the ${control.kind === 'choose' ? 'list' : 'control'} "${control.label}"`;
  const seen: Look[] = [base];
  const found: { readonly then: Look; readonly applies: readonly ThemeApply[] }[] = [];
  await exploring.load(url);
  const before = await exploring.tab.call('exploreTraces', null);
  for (let press = 0; press < (value === null ? MOST_PRESSES : 1) && goOn(); press += 1) {
    const navigations = exploring.tab.navigations;
    if (!(await exploring.tab.call('exploreUse', { selector: control.selector, value }))) break;
    await settleAfterChange(exploring.tab);
    if (exploring.tab.navigations !== navigations) await settleAfterLoad(exploring.tab);
    const then = await look(exploring.tab);
    if (seen.some((known) => isSame(known, then))) break;
    seen.push(then);
    const { pixels, elements } = difference(base, then);
    // Menus and dialogs change pixels, but not the colours of what was there before.
    if (Math.min(pixels, elements) < CHANGED) continue;
    found.push({ then, applies: waysFrom(before, await exploring.tab.call('exploreTraces', null)) });
  }
  const tried: Tried[] = [];
  const notes: string[] = [];
  for (const { then, applies } of found) {
    const working = await firstThatGives(wish, then, applies);
    if (working === null)
      notes.push(`${called} repaints the page, but nothing it sets brings that about alone; a script may (themes.*.apply.script)`);
    else
      tried.push({
        ...working,
        name: themeName(valueOf(working.apply) ?? value ?? control.label),
        evidence: `${called} switches it`,
        isChosen: true,
        strong: true,
      });
  }
  return { tried, notes };
}

function isSame(a: Look, b: Look): boolean {
  const { elements, pixels } = difference(a, b);
  return elements <= SAME && pixels <= SAME;
}

async function firstThatGives(
  { exploring, url, goOn }: ControlWish,
  wanted: Look,
  applies: readonly ThemeApply[],
): Promise<{ readonly apply: ThemeApply; readonly look: Look } | null> {
  for (const apply of applies) {
    if (!goOn()) return null;
    await exploring.load(url, apply);
    const now = await look(exploring.tab);
    // The control itself may look pressed.
    const { elements, pixels } = difference(wanted, now);
    if (elements <= 2 * SAME && pixels <= 2 * SAME) return { apply, look: now };
  }
  return null;
}

/** Each single thing that changed, then all that changed in place, then what the page reads as it loads. */
function waysFrom(before: WireTraces, after: WireTraces): readonly ThemeApply[] {
  const inPlace = after.elements.flatMap(({ on, attributes }): ThemeApply[] => {
    const then = before.elements.find((element) => element.on === on)?.attributes ?? {};
    return Object.entries(attributes)
      .filter(([name, value]) => then[name] !== value)
      .sort(([a], [b]) => Number(a === 'style') - Number(b === 'style'))
      .map(([name, value]) =>
        name === 'class' ? { class: { on, ...classChange(then['class'] ?? '', value) } } : { attributes: [{ on, name, value }] },
      );
  });
  const attribute = inPlace.find((apply) => apply.attributes !== undefined);
  const classes = inPlace.find((apply) => apply.class !== undefined);
  const both = attribute !== undefined && classes !== undefined ? [{ ...attribute, ...classes }] : [];
  const attributes = inPlace.flatMap((apply) => apply.attributes ?? []).filter(({ name }) => name !== 'style');
  const several = attributes.length > 1 ? [{ attributes, ...classes }] : [];
  const loaded = (['query', 'storage', 'cookie'] as const).flatMap((kind): ThemeApply[] => {
    const source = kind === 'cookie' ? 'cookies' : kind;
    const changed = Object.entries(after[source]).filter(([name, value]) => before[source][name] !== value);
    const single = changed.map(([name, value]): ThemeApply => ({ [kind]: { [name]: value } }));
    return changed.length > 1 ? [...single, { [kind]: Object.fromEntries(changed) }] : single;
  });
  return [...inPlace, ...both, ...several, ...loaded];
}

function classChange(before: string, after: string): { readonly add: readonly string[]; readonly remove: readonly string[] } {
  const list = (text: string): readonly string[] => text.split(/\s+/).filter((name) => name !== '');
  const [was, is] = [list(before), list(after)];
  return { add: is.filter((name) => !was.includes(name)), remove: was.filter((name) => !is.includes(name)) };
}

function valueOf({ attributes: [attribute] = [], class: classes, storage, cookie, query }: ThemeApply): string | undefined {
  if (attribute !== undefined && attribute.name !== 'style') return attribute.value === '' ? attribute.name : attribute.value;
  const [first] = classes?.add ?? [];
  const stored = Object.values(storage ?? cookie ?? query ?? {})[0];
  // What is kept as an object says little as a name.
  return first ?? (stored !== undefined && /^[\w-]{1,24}$/.test(stored) && !/^(true|false|\d+)$/.test(stored) ? stored : undefined);
}
