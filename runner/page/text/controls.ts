// Text that controls show without a text node: values, placeholders, selected options, labels of input buttons.
import { dom } from '../dom.ts';
import { shownText } from './glyphs.ts';
import { inkOf } from './ink.ts';
import { contentBoxes } from './line-boxes.ts';
import type { RunMaker } from './runs.ts';
import type { Entry } from '../scene/scene.ts';

/** Input types that show no text of their own (HTML §4.10.5.1). */
const TEXTLESS = new Set(['hidden', 'checkbox', 'radio', 'range', 'color', 'image', 'file']);
const DEFAULT_LABEL: Readonly<Record<string, string>> = { submit: 'Submit', reset: 'Reset' };
/** Shown while empty, in the browser's language. */
const EMPTY_FIELD: Readonly<Record<string, string>> = {
  date: 'mm/dd/yyyy',
  time: '--:-- --',
  'datetime-local': 'mm/dd/yyyy, --:-- --',
  month: '--------- ----',
  week: 'Week --, ----',
};

export function addControlText(entry: Entry, maker: RunMaker): void {
  switch (dom(entry.el).localName) {
    case 'input':
      addInput(entry, entry.el as HTMLInputElement, maker);
      break;
    case 'textarea':
      addField(entry, entry.el as HTMLTextAreaElement, maker);
      break;
    case 'select':
      addSelect(entry, entry.el as HTMLSelectElement, maker);
      break;
    case 'option':
      addListed(entry, entry.el as HTMLOptionElement, maker);
      break;
    case 'optgroup':
      addGroupLabel(entry, entry.el as HTMLOptGroupElement, maker);
      break;
    case 'img':
      addAlternative(entry, entry.el as HTMLImageElement, maker);
      break;
  }
}

function addInput(entry: Entry, input: HTMLInputElement, maker: RunMaker): void {
  if (input.type === 'file') addFile(entry, input, maker);
  if (TEXTLESS.has(input.type)) return;
  if (['button', 'submit', 'reset'].includes(input.type)) {
    const label = input.getAttribute('value') ?? DEFAULT_LABEL[input.type] ?? '';
    addValue(entry, label, maker);
  } else if (EMPTY_FIELD[input.type] !== undefined)
    addValue(entry, input.value === '' ? (EMPTY_FIELD[input.type] ?? '') : input.value, maker);
  else addField(entry, input, maker);
}

function addField(entry: Entry, field: HTMLInputElement | HTMLTextAreaElement, maker: RunMaker): void {
  if (field.value !== '') {
    addValue(entry, field.type === 'password' ? '•'.repeat(Math.min(field.value.length, 12)) : field.value, maker);
    return;
  }
  const text = shownText(field.placeholder);
  if (text === '') return;
  const style = entry.shown.window.getComputedStyle(field, '::placeholder');
  const opacity = Number(style.opacity);
  if (style.visibility !== 'visible' || opacity === 0) return;
  const ink = inkOf(style, maker.scaleOf(entry));
  maker.add({
    source: 'placeholder',
    entry,
    text,
    rects: contentBoxes(entry, maker.scene),
    ground: maker.grounds.of(entry),
    ink: opacity === 1 ? ink : { ...ink, inkAlpha: opacity },
    pseudo: '::placeholder',
  });
}

function addSelect(entry: Entry, select: HTMLSelectElement, maker: RunMaker): void {
  if (select.multiple || select.size > 1) return;
  // Its own button shows what the author put there (HTML, customizable select).
  if (entry.style.appearance === 'base-select' && select.querySelector(':scope > button') !== null) return;
  addValue(entry, select.selectedOptions[0]?.label ?? '', maker);
}

/** Options of a list that is always open. */
function addListed(entry: Entry, option: HTMLOptionElement, maker: RunMaker): void {
  const select = option.closest('select');
  if (select !== null && (select.multiple || select.size > 1)) addValue(entry, option.label, maker);
}

/** In a list that is always open: the strip above its first option. */
function addGroupLabel(entry: Entry, group: HTMLOptGroupElement, maker: RunMaker): void {
  const select = group.closest('select');
  const [box] = contentBoxes(entry, maker.scene);
  if (select === null || !(select.multiple || select.size > 1) || box === undefined) return;
  const first = dom(group.firstElementChild)?.getBoundingClientRect();
  const height = first === undefined ? box[3] : Math.min(box[3], first.top + entry.shown.dy - box[1]);
  if (height > 2) addValue(entry, group.label, maker, [[box[0], box[1], box[2], height]]);
}

/** Words that stand where a picture could not be had (HTML §15.4.3). */
function addAlternative(entry: Entry, img: HTMLImageElement, maker: RunMaker): void {
  if (img.complete && img.naturalWidth === 0 && img.getAttribute('src') !== null) addValue(entry, img.alt, maker);
}

function addValue(entry: Entry, value: string, maker: RunMaker, rects = contentBoxes(entry, maker.scene)): void {
  const text = shownText(value);
  if (text === '') return;
  const ink = inkOf(entry.style, maker.scaleOf(entry));
  maker.add({ source: 'value', entry, text, rects, ground: maker.grounds.of(entry), ink });
}

/** The button at the start and the file's name after it. Their words are the browser's; `files` tells the name. */
function addFile(entry: Entry, input: HTMLInputElement, maker: RunMaker): void {
  const button = entry.shown.window.getComputedStyle(input, '::file-selector-button');
  const [box] = contentBoxes(entry, maker.scene);
  const width = parseFloat(button.width);
  if (box === undefined || !Number.isFinite(width)) return;
  const sum = (...sides: readonly string[]): number => sides.reduce((total, side) => total + (parseFloat(side) || 0), 0);
  const edge =
    button.boxSizing === 'border-box'
      ? width
      : width + sum(button.paddingLeft, button.paddingRight, button.borderLeftWidth, button.borderRightWidth);
  const rightToLeft = entry.style.direction === 'rtl';
  const [x, y, w, h] = box;
  const inner = sum(button.paddingLeft, button.borderLeftWidth);
  const start = rightToLeft ? x + w - edge : x;
  const pad = sum(button.paddingTop, button.borderTopWidth);
  maker.add({
    source: 'pseudo',
    entry,
    text: 'Choose File',
    rects: [[start + inner, y + pad, Math.max(2, edge - 2 * inner), Math.max(2, h - 2 * pad)]],
    ground: maker.grounds.ofPseudo(entry, '::file-selector-button', button),
    ink: inkOf(button, maker.scaleOf(entry)),
    pseudo: '::file-selector-button',
  });
  const gap = edge + sum(button.marginInlineEnd);
  const ink = inkOf(entry.style, maker.scaleOf(entry));
  const text = input.files?.[0]?.name ?? 'No file chosen';
  maker.add({
    source: 'value',
    entry,
    text,
    rects: [[rightToLeft ? x : x + gap, y, Math.max(2, w - gap), h]],
    ground: maker.grounds.of(entry),
    ink,
  });
}
