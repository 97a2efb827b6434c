// Text runs of the page with their line boxes, computed ink and ground.
import type { Grounds } from './grounds.ts';
import type { Identity } from './identity.ts';
import { exemptions } from './exempt.ts';
import type { Box, Entry, Scene } from './scene.ts';
import { cut } from './scene.ts';
import type { Doubt, Rules, WireRect, WireRun, WireText } from './wire.ts';
import { groundsOf } from './grounds.ts';
import { markWith } from './marks.ts';

const TEXT_SHOWN = 120;

export function collectText(scene: Scene, identity: Identity, rules: Rules): WireText {
  const grounds = groundsOf(identity);
  const marksOf = markWith(rules);
  const exemptOf = exemptions();
  const runs: WireRun[] = [];
  for (const entry of scene.entries) {
    if (!entry.visible) continue;
    let part = 0;
    for (let node = entry.el.firstChild; node !== null; node = node.nextSibling) {
      if (node.nodeType !== Node.TEXT_NODE) continue;
      const text = shownText(node.nodeValue ?? '');
      if (text === '') continue;
      part += 1;
      const rects = lineBoxes(node, entry, scene);
      if (rects.length === 0) continue;
      const exempt = exemptOf(entry);
      runs.push({
        source: 'text',
        text,
        selector: identity.selectorOf(entry),
        key: part === 1 ? identity.keyOf(entry) : `${identity.keyOf(entry)}:${part}`,
        rects,
        ...inkOf(entry, grounds),
        ...marksOf(entry),
        ...(exempt === undefined ? {} : { exempt }),
      });
    }
  }
  return { grounds: grounds.list, runs, canvas: canvasColor() };
}

function shownText(raw: string): string {
  return raw.replace(/\s+/gu, ' ').trim().slice(0, TEXT_SHOWN);
}

function inkOf(
  entry: Entry,
  grounds: Grounds,
): Pick<WireRun, 'ink' | 'inkProperty' | 'fontSize' | 'fontWeight' | 'ground' | 'doubts'> {
  const { style } = entry;
  const fill = style.webkitTextFillColor;
  const { color } = style;
  const doubts: Doubt[] = [];
  if (style.textShadow !== 'none') doubts.push('text-shadow');
  if (parseFloat(style.webkitTextStrokeWidth) > 0) doubts.push('text-stroke');
  return {
    ink: fill,
    inkProperty: fill === color ? 'color' : '-webkit-text-fill-color',
    fontSize: parseFloat(style.fontSize),
    fontWeight: Number(style.fontWeight),
    ground: grounds.of(entry),
    ...(doubts.length === 0 ? {} : { doubts }),
  };
}

function lineBoxes(node: Node, entry: Entry, scene: Scene): WireRect[] {
  const range = entry.shown.document.createRange();
  range.selectNodeContents(node);
  const boxes: WireRect[] = [];
  const page: Box = { left: 0, top: 0, right: scene.width, bottom: scene.height };
  const clip = cut(entry.inside.flow, page);
  for (const r of range.getClientRects()) {
    const box = cut(clip, {
      left: r.left + entry.shown.dx,
      top: r.top + entry.shown.dy,
      right: r.right + entry.shown.dx,
      bottom: r.bottom + entry.shown.dy,
    });
    const width = box.right - box.left;
    const height = box.bottom - box.top;
    // A single pixel shows no glyph (the pattern for text meant for screen readers only).
    if (width > 1.5 && height > 1.5) boxes.push([box.left, box.top, width, height]);
  }
  return boxes;
}

/** CSS Color Adjust 1: the canvas of a dark root is dark. */
function canvasColor(): string {
  const style = getComputedStyle(document.documentElement);
  const scheme = style.colorScheme;
  const dark = scheme.includes('dark') && (!scheme.includes('light') || matchMedia('(prefers-color-scheme: dark)').matches);
  return dark ? 'rgb(18, 18, 18)' : 'rgb(255, 255, 255)';
}
