// Lays the cases of a table out on one page and reads what was measured for each.
import { contrastRatio } from '../../../src/colour/contrast-ratio.ts';
import { opaque } from '../../../src/colour/color.ts';
import { parseColor } from '../../../src/colour/parse-color.ts';
import { verdictOnSample } from '../../../src/checks/verdict-on-sample.ts';
import type { TextSample } from '../../../src/samples/sample.ts';
import type { Verdict } from '../../../src/samples/sample-verdict.ts';
import type { Case, Expected } from './case.ts';

/** CSS px; each case has a strip of the page. */
const STRIP = 120;

export function sheetOf(cases: readonly Case[]): string {
  const strips = cases.map(({ html }, n) => {
    const style = `position:absolute;left:20px;top:${String(n * STRIP + 10)}px;width:700px`;
    return `<section style="${style}">${html.replaceAll('ID', `case-${String(n)}`)}</section>`;
  });
  return `<!doctype html><html><head><title>Cases</title><style>
    body{margin:0;height:${String(cases.length * STRIP)}px;font:20px/24px 'DejaVu Sans','Liberation Sans',sans-serif;color:#000}
    </style></head><body>${strips.join('\n')}</body></html>`;
}

export function samplesOfCase(samples: readonly TextSample[], n: number): readonly TextSample[] {
  return samples.filter(({ rect: [, y] }) => y >= n * STRIP && y < (n + 1) * STRIP);
}

/** @returns what is wrong, one line each; empty when all is as expected */
export function differences({ expect, within = 2 }: Case, found: readonly TextSample[]): readonly string[] {
  const shown = found.map(
    (s) =>
      `"${s.text}" ${s.color} on ${s.background} ${verdictOf(s)} ${s.contrast.min.toFixed(3)}–${s.contrast.max.toFixed(3)} ${s.basis}`,
  );
  if (found.length !== expect.length)
    return [`${String(found.length)} runs instead of ${String(expect.length)}: ${shown.join('; ')}`];
  const left = [...found];
  return expect.flatMap((wanted) => {
    const candidates = left.filter((sample) => sample.text.startsWith(wanted.text ?? ''));
    const rated = candidates
      .map((sample) => ({ sample, faults: faultsOf(wanted, sample, within) }))
      .sort((a, b) => a.faults.length - b.faults.length);
    const [best] = rated;
    if (best === undefined) return [`no run "${wanted.text ?? ''}" among ${shown.join('; ')}`];
    left.splice(left.indexOf(best.sample), 1);
    return best.faults;
  });
}

function faultsOf(wanted: Expected, sample: TextSample, within: number): readonly string[] {
  const faults: string[] = [];
  const say = (what: string, found: unknown, expected: unknown): void => {
    faults.push(
      `"${sample.text}": ${what} ${String(found)}, expected ${String(expected)} (${sample.color} on ${sample.background}, ${sample.basis})`,
    );
  };
  for (const what of ['color', 'background'] as const) {
    const expected = wanted[what];
    if (expected !== undefined && apart(sample[what], expected) > within) say(what, sample[what], expected);
  }
  if (wanted.verdict !== undefined && verdictOf(sample) !== wanted.verdict) say('verdict', verdictOf(sample), wanted.verdict);
  for (const what of ['exempt', 'large'] as const) {
    const expected = wanted[what];
    if (expected !== undefined && sample[what] !== expected) say(what, sample[what], expected);
  }
  for (const what of ['min', 'max'] as const) {
    const [from, to] = wanted[what] ?? [0, 21];
    if (sample.contrast[what] < from - 1e-9 || sample.contrast[what] > to + 1e-9)
      say(what, sample.contrast[what], `${String(from)}–${String(to)}`);
  }
  if (wanted.fontSize !== undefined && Math.abs(sample.fontSize - wanted.fontSize) > 0.05)
    say('size', sample.fontSize, wanted.fontSize);
  const [, , width, height] = sample.rect;
  if (wanted.most !== undefined && (width > wanted.most.width || height > wanted.most.height))
    say('box', `${String(width)} × ${String(height)}`, `at most ${String(wanted.most.width)} × ${String(wanted.most.height)}`);
  // Flat pairs: the ratio is that of the colours shown, as WCAG defines it; half a code of rounding in each.
  if (wanted.min === undefined && sample.unread === undefined && sample.contrast.max - sample.contrast.min < 1e-9) {
    const own = contrastRatio({ ink: opaque(parseColor(sample.color)), background: opaque(parseColor(sample.background)) });
    if (Math.abs(own - sample.contrast.min) > 0.15 && sample.basis === 'computed') say('ratio', sample.contrast.min, own);
  }
  return faults;
}

/** At level AA, without exemptions. */
function verdictOf(sample: TextSample): Verdict {
  const view = { id: sample.view, page: '', theme: '', state: '', viewport: '' };
  return verdictOnSample(sample, view, { level: 'AA', exempt: [], today: '2031-05-04' }).verdict;
}

/** Largest difference of a channel, in codes. */
function apart(one: string, other: string): number {
  const a = parseColor(one);
  const b = parseColor(other);
  return Math.round(255 * Math.max(Math.abs(a.r - b.r), Math.abs(a.g - b.g), Math.abs(a.b - b.b)));
}
