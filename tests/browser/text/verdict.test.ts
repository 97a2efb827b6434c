// Which verdict a contrast, a size and a weight lead to (WCAG 2.2 SC 1.4.3, 1.4.6, definitions "contrast ratio", "large scale").
import { describe, expect, test } from 'vitest';
import { contrastOfPairs } from '../../../runner/text/contrast-of-pairs.ts';
import type { SampleVerdict, Verdict } from '../../../src/samples/sample-verdict.ts';
import type { ContrastLevel } from '../../../src/colour/text-requirement.ts';
import { isLargeText } from '../../../src/colour/text-requirement.ts';
import type { Standard } from '../../../src/checks/verdict-on-sample.ts';
import { verdictOnSample } from '../../../src/checks/verdict-on-sample.ts';
import type { SampleOf } from '../../../src/checks/check.ts';
import { textRun, view } from '../../checks/made-samples.ts';

interface Facts extends Partial<Pick<SampleOf<'text'>, 'exempt' | 'why' | 'unread' | 'exemptions'>> {
  readonly contrast?: SampleOf<'text'>['contrast'];
  readonly fontSizeCssPx?: number;
  readonly fontWeight?: number;
}

const BEST = { min: 21, max: 21 };

function judge(
  { contrast = BEST, fontSizeCssPx = 16, fontWeight = 400, ...rest }: Facts,
  standard: Partial<Standard> = {},
): SampleVerdict {
  const large = isLargeText({ fontSizeCssPx, fontWeight });
  const sample = textRun({ color: '#000000', background: '#ffffff', contrast, large, ...rest });
  return verdictOnSample(sample, view('dusk'), { level: 'AA', exempt: [], today: '2031-05-04', ...standard });
}

describe('size and weight decide what is required', () => {
  // "Large scale": at least 18 point or 14 point bold; 1 pt = 1.333 px. Bold is CSS 700 (CSS Fonts 4 §2.2).
  const rows: readonly (readonly [sizeCssPx: number, weight: number, level: ContrastLevel, large: boolean, required: number])[] = [
    [16, 400, 'AA', false, 4.5],
    [16, 900, 'AA', false, 4.5],
    [18, 700, 'AA', false, 4.5],
    [18.65, 700, 'AA', false, 4.5],
    [18.66, 700, 'AA', true, 3],
    // 14 pt as browsers compute it.
    [18.6667, 700, 'AA', true, 3],
    [18.6667, 699, 'AA', false, 4.5],
    [18.6667, 900, 'AA', true, 3],
    [23.99, 400, 'AA', false, 4.5],
    [24, 400, 'AA', true, 3],
    [24, 100, 'AA', true, 3],
    [72, 400, 'AA', true, 3],
    [16, 400, 'AAA', false, 7],
    [18.6667, 700, 'AAA', true, 4.5],
    [23.99, 400, 'AAA', false, 7],
    [24, 400, 'AAA', true, 4.5],
  ];
  test.each(rows)('%f px, weight %i, %s: large %s, %f', (fontSizeCssPx, fontWeight, level, large, required) => {
    expect(isLargeText({ fontSizeCssPx, fontWeight })).toBe(large);
    expect(judge({ fontSizeCssPx, fontWeight }, { level })).toMatchObject({ required, verdict: 'pass' });
  });
});

describe('least and highest contrast decide the verdict, unrounded', () => {
  const rows: readonly (readonly [min: number, max: number, sizeCssPx: number, level: ContrastLevel, verdict: Verdict])[] = [
    [4.5, 4.5, 16, 'AA', 'pass'],
    // Understanding SC 1.4.3: 4.499:1 would not meet 4.5:1.
    [4.499, 4.499, 16, 'AA', 'fail'],
    [4.49999999, 4.49999999, 16, 'AA', 'fail'],
    [4.499, 4.5, 16, 'AA', 'mixed'],
    [1, 21, 16, 'AA', 'mixed'],
    [4.5, 21, 16, 'AA', 'pass'],
    [1, 4.499, 16, 'AA', 'fail'],
    [3, 3, 24, 'AA', 'pass'],
    [2.999, 2.999, 24, 'AA', 'fail'],
    [2.999, 3, 24, 'AA', 'mixed'],
    [7, 7, 16, 'AAA', 'pass'],
    [6.999, 6.999, 16, 'AAA', 'fail'],
    [4.5, 4.5, 24, 'AAA', 'pass'],
    [4.499, 4.499, 24, 'AAA', 'fail'],
  ];
  test.each(rows)('%f to %f at %f px, %s: %s', (min, max, fontSizeCssPx, level, verdict) => {
    expect(judge({ contrast: { min, max }, fontSizeCssPx }, { level }).verdict).toBe(verdict);
  });
});

test('an exempt text has no requirement and says why', () => {
  expect(judge({ contrast: { min: 1, max: 1 }, exempt: 'inactive', why: 'button is disabled' })).toEqual({
    required: null,
    exempt: 'inactive',
    verdict: 'exempt',
    why: 'button is disabled',
  });
});

test('what cannot be measured neither passes nor fails', () => {
  const unread = 'its lines moved while it was measured';
  expect(judge({ unread })).toEqual({ required: 4.5, exempt: null, verdict: 'unknown', why: unread });
});

describe('an exemption of the configuration is told as such', () => {
  const faint = { contrast: { min: 1, max: 1 }, exemptions: [0] };
  const under = (rule: object): SampleVerdict => judge(faint, { exempt: [{ selector: '.mark', why: 'goes in May', ...rule }] });
  test.each([
    ['as it is', {}, 'exempt', 'configured'],
    ['for a word mark', { logotype: true }, 'exempt', 'logotype'],
    ['of another check', { checks: ['glow'] }, 'fail', null],
    ['of another theme', { themes: ['noon'] }, 'fail', null],
    ['that is over', { until: '2031-05-03' }, 'fail', null],
  ])('%s', (_, rule, verdict, exempt) => {
    expect(under(rule)).toMatchObject({ verdict, exempt });
  });
});

describe('pairs of colours', () => {
  // Published ratios of greys on white and black, reference "contrast and colour" §1 (computed there with two libraries).
  const rows: readonly (readonly [ink: number, background: number, contrast: number])[] = [
    [0x000000, 0xffffff, 21],
    [0x777777, 0xffffff, 4.4781],
    [0x767676, 0xffffff, 4.5422],
    [0x959595, 0xffffff, 2.9953],
    [0x949494, 0xffffff, 3.0335],
    [0x595959, 0xffffff, 7.0047],
    [0xff0000, 0xffffff, 3.9985],
    [0x0000ff, 0x000000, 2.444],
    [0xffff00, 0x4189b9, 3.5533],
  ];
  test.each(rows)('%s on %s', (ink, background, contrast) => {
    expect(contrastOfPairs([{ ink, background, count: 1 }], null)?.min).toBeCloseTo(contrast, 4);
  });

  test('one pixel in a thousand does not decide, two in a hundred do', () => {
    const white = { ink: 0, background: 0xffffff, count: 999 };
    const odd = contrastOfPairs([white, { ink: 0, background: 0, count: 1 }], null);
    expect([odd?.min, odd?.lowest]).toEqual([21, 1]);
    const many = contrastOfPairs(
      [
        { ...white, count: 980 },
        { ink: 0, background: 0, count: 20 },
      ],
      null,
    );
    expect([many?.min, many?.lowest]).toEqual([1, 1]);
  });

  test('a border round the letters helps where it stands out more than they do', () => {
    expect(contrastOfPairs([{ ink: 0xffffff, background: 0xffffff, count: 9 }], 0x000000)?.min).toBe(21);
    expect(contrastOfPairs([{ ink: 0x000000, background: 0xffffff, count: 9 }], 0xeeeeee)?.min).toBe(21);
  });

  test('backgrounds met are listed by frequency, at most eight, near ones once', () => {
    const pairs = Array.from({ length: 20 }, (_, n) => ({ ink: 0, background: (n * 12) << 16, count: n + 1 }));
    const spread = contrastOfPairs([...pairs, { ink: 0, background: (19 * 12 + 1) << 16, count: 1 }], null)?.spread ?? [];
    expect(spread.map((one) => one.background >> 16)).toEqual([228, 216, 204, 192, 180, 168, 156, 144]);
    expect(spread[0]?.share).toBeCloseTo(21 / 211, 6);
  });
});
