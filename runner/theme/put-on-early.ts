// A theme that is there before the page's own scripts run, as a visitor meets it who chose it on an earlier visit.
import type { ThemeApply } from '../../src/plan/configuration.ts';
import { EARLY_MARK } from '../page/styles/early-mark.ts';
import { EARLY_WORLD } from '../tab/tab.ts';
import type { Tab } from '../tab/tab.ts';

/** Loads what `load` loads, with attribute and class of the theme in place as soon as their element exists. */
export async function withThemeEarly<T>(tab: Tab, apply: ThemeApply, load: () => Promise<T>): Promise<T> {
  const source = earlyScript(apply);
  if (source === null) return load();
  const script = await tab.guard('preparing the load', tab.driver.beforeEachLoad(source, EARLY_WORLD));
  try {
    return await load();
  } finally {
    // Not waited for: what is sent later comes after it, and a page that is held up would never answer.
    script.remove().catch(() => undefined);
  }
}

function earlyScript({ attributes = [], class: classes }: ThemeApply): string | null {
  const steps = [
    ...attributes.map(({ on, name, value }) => ({ on, attribute: [name, value], add: [], remove: [] })),
    ...(classes === undefined ? [] : [{ on: classes.on, attribute: null, add: classes.add, remove: classes.remove }]),
  ];
  return steps.length === 0 ? null : `(${String(putOnEarly)})(${JSON.stringify(steps)},${JSON.stringify(EARLY_MARK)})`;
}

interface EarlyStep {
  readonly on: string;
  readonly attribute: readonly [name: string, value: string] | null;
  readonly add: readonly string[];
  readonly remove: readonly string[];
}

/** As the page has it: attributes, null where there is none, and `class`. */
type EarlyNote = readonly [before: Record<string, string | null>, classes: string];

/** The parts of the page's own world that this function uses once it is there. */
interface EarlyElement {
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  readonly classList: { add(...names: readonly string[]): void; remove(...names: readonly string[]): void };
}

/** Travels as text: it may name nothing but its arguments and what a browser has. */
function putOnEarly(steps: readonly EarlyStep[], mark: string): void {
  const browser = globalThis as unknown as {
    readonly top: unknown;
    readonly document: { querySelector(selector: string): EarlyElement | null };
    readonly MutationObserver: new (then: () => void) => { observe(target: unknown, options: object): void; disconnect(): void };
  };
  if (browser.top !== globalThis) return;
  const left = [...steps];
  const observer = new browser.MutationObserver(() => {
    apply();
  });
  const apply = (): void => {
    for (const step of [...left]) {
      const el = browser.document.querySelector(step.on);
      if (el === null) continue;
      left.splice(left.indexOf(step), 1);
      const noted = el.getAttribute(mark);
      const [before, classes] = (noted === null ? [{}, el.getAttribute('class') ?? ''] : JSON.parse(noted)) as EarlyNote;
      const [name, value] = step.attribute ?? [];
      if (name !== undefined && !(name in before)) before[name] = el.getAttribute(name);
      el.setAttribute(mark, JSON.stringify([before, classes]));
      if (name !== undefined && value !== undefined) el.setAttribute(name, value);
      el.classList.remove(...step.remove);
      el.classList.add(...step.add);
    }
    if (left.length === 0) observer.disconnect();
  };
  observer.observe(browser.document, { childList: true, subtree: true });
  apply();
}
