// Holds the page still: transitions off, caret hidden, animations at their end (endless ones at their start), those of parts of controls
// off, media paused.
import { dom, isDocument } from '../dom.ts';
import { documentIn } from '../scene/frame-documents.ts';
import { shadowOf } from '../scene/shadow-trees.ts';

/**
 * Parts of controls (HTML, CSS Pseudo-Elements 4, and Chromium's own names, blink `shadow_element_names`): no script reaches them, nor are
 * their animations among those of the document. A rule for parts of scrollbars would change how those look.
 */
const PARTS: readonly (readonly [elements: string, parts: readonly string[]])[] = [
  [
    'input',
    [
      ...['placeholder', 'file-selector-button'],
      ...['slider-container', 'slider-runnable-track', 'slider-thumb', 'color-swatch-wrapper', 'color-swatch'].map(webkit),
      ...['search-decoration', 'search-results-button', 'search-cancel-button', 'clear-button', 'list-button'].map(webkit),
      ...['inner-spin-button', 'outer-spin-button', 'calendar-picker-indicator', 'date-and-time-value', 'datetime-edit'].map(
        webkit,
      ),
      ...['fields-wrapper', 'text', 'ampm-field', 'year-field', 'month-field', 'week-field', 'day-field'].map(ofDate),
      ...['hour-field', 'minute-field', 'second-field', 'millisecond-field'].map(ofDate),
    ],
  ],
  ['textarea', ['placeholder']],
  ['progress', ['progress-inner-element', 'progress-bar', 'progress-value'].map(webkit)],
  [
    'meter',
    ['meter-inner-element', 'meter-bar', 'meter-optimum-value', 'meter-suboptimum-value', 'meter-even-less-good-value'].map(webkit),
  ],
  ['select', ['picker(select)', 'picker-icon']],
  ['option', ['checkmark']],
  ['details', ['details-content']],
  ['li', ['marker']],
  ['summary', ['marker']],
];

function webkit(name: string): string {
  return `-webkit-${name}`;
}

function ofDate(name: string): string {
  return webkit(`datetime-edit-${name}`);
}

/** Rules for the parts of all elements would be told of each of them, and of all around them, when rules are looked up. */
const HELD = PARTS.flatMap(([elements, parts]) =>
  parts.map((part) => `${elements}::${part}{transition:none!important;animation:none!important}`),
).join('');

/** In a layer, what insists is stronger than what insists outside of one (CSS Cascade 5 §6.4.4). A part that is not known spoils its own rule only. */
const FROZEN = `@layer gloam-still{*,*::before,*::after,*::backdrop{transition:none!important;caret-color:transparent!important;scroll-behavior:auto!important}${HELD}}`;

export interface Stillness {
  /** Also over roots that are new. */
  hold(): void;
  release(): void;
  /** Those that hold the page still. */
  sheets(): ReadonlySet<CSSStyleSheet>;
}

export function openStillness(): Stillness {
  const sheets = new Map<Document | ShadowRoot, CSSStyleSheet>();
  const drop = (isDropped: (root: Document | ShadowRoot, sheet: CSSStyleSheet) => boolean): void => {
    for (const [root, sheet] of sheets) {
      if (!isDropped(root, sheet)) continue;
      removeSheet(root, sheet);
      sheets.delete(root);
    }
  };
  return {
    hold: () => {
      // A page may have set its own list of sheets anew.
      drop((root, sheet) => !dom(root).adoptedStyleSheets.includes(sheet));
      for (const root of allRoots()) if (!sheets.has(root)) sheets.set(root, addSheet(root, FROZEN));
    },
    release: () => {
      drop(() => true);
    },
    sheets: () => new Set(sheets.values()),
  };
}

/** A style sheet made by script: a page's content security policy does not apply to it. */
export function addSheet(root: Document | ShadowRoot, css: string): CSSStyleSheet {
  // Not `instanceof`: frames have classes of their own.
  const owner = isDocument(root) ? root : root.ownerDocument;
  const view = dom(owner).defaultView ?? window;
  const sheet = new view.CSSStyleSheet();
  sheet.replaceSync(css);
  dom(root).adoptedStyleSheets = [...dom(root).adoptedStyleSheets, sheet];
  return sheet;
}

export function removeSheet(root: Document | ShadowRoot, sheet: CSSStyleSheet): void {
  dom(root).adoptedStyleSheets = [...dom(root).adoptedStyleSheets].filter((other) => other !== sheet);
}

/** The page, its same-origin frames and all shadow trees that are known. */
export function allRoots(): readonly (Document | ShadowRoot)[] {
  const roots: (Document | ShadowRoot)[] = [];
  const queue: (Document | ShadowRoot)[] = [document];
  for (let root = queue.pop(); root !== undefined; root = queue.pop()) {
    roots.push(root);
    for (const el of dom(root).querySelectorAll('*')) {
      const tree = shadowOf(el);
      if (tree !== null) queue.push(tree);
      else {
        const inner = documentIn(el);
        if (inner !== null) queue.push(inner);
      }
    }
  }
  return roots;
}

/** @returns how many still moved */
export function finishAnimations(roots: readonly (Document | ShadowRoot)[]): number {
  let moved = 0;
  for (const root of roots) {
    for (const animation of dom(root).getAnimations()) {
      if (animation.playState !== 'running') continue;
      // Progress by scrolling is no motion.
      if (animation.timeline === null || 'source' in animation.timeline) continue;
      moved += 1;
      const end = animation.effect?.getComputedTiming().endTime;
      try {
        if (typeof end === 'number' && Number.isFinite(end) && animation.playbackRate !== 0) animation.finish();
        else {
          animation.pause();
          animation.currentTime = 0;
        }
      } catch {
        animation.cancel();
      }
    }
    for (const media of dom(root).querySelectorAll('video,audio')) {
      const player = media as HTMLMediaElement;
      if (player.paused) continue;
      moved += 1;
      player.pause();
      player.currentTime = 0;
    }
    for (const svg of dom(root).querySelectorAll('svg')) {
      if (svg.animationsPaused()) continue;
      svg.pauseAnimations();
      svg.setCurrentTime(0);
    }
  }
  return moved;
}
