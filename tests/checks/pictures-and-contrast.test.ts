import { describe, expect, test } from 'vitest';
import { graphicContrast } from '../../src/checks/graphic-contrast.ts';
import { invertedPicture } from '../../src/checks/inverted-picture.ts';
import { textContrast } from '../../src/checks/text-contrast.ts';
import { graphic, judge, picture, textRun } from './made-samples.ts';

const on = (selector: string, filter: string): { selector: string; filter: string; origin: 'author' } => ({
  selector,
  filter,
  origin: 'author',
});

describe('inverted-picture', () => {
  test.each([
    ['invert on itself', [on('#gauge', 'invert(1)')], ['error']],
    ['the naive dark theme', [on('html', 'invert(1) hue-rotate(180deg)')], ['error']],
    ['counter-filter', [on('#gauge', 'invert(1) hue-rotate(180deg)'), on('html', 'invert(1) hue-rotate(180deg)')], []],
    ['three inversions', [on('#gauge', 'invert(1)'), on('main', 'invert(1)'), on('html', 'invert(1)')], ['error']],
    ['turned hues', [on('main', 'hue-rotate(90deg)')], ['warning']],
    ['a slight turn', [on('main', 'hue-rotate(15deg)')], []],
    ['dimmed', [on('main', 'brightness(0.8) contrast(1.1)')], []],
    ['greyed', [on('main', 'grayscale(1)')], []],
  ] as const)('%s', (_, filters, levels) => {
    expect(judge(invertedPicture, [picture({ filters })], [picture({})]).map((f) => f.level)).toEqual(levels);
  });

  test('line art may carry a filter of its own, not one of the page', () => {
    expect(judge(invertedPicture, [picture({ filters: [on('#gauge', 'invert(1)')], detail: 0.05 })], [picture({})])).toEqual([]);
    expect(judge(invertedPicture, [picture({ filters: [on('html', 'invert(1)')], detail: 0.05 })], [picture({})])).toHaveLength(1);
  });

  test('a picture filtered alike in the reference theme is meant so', () => {
    const filters = [on('#gauge', 'invert(1)')];
    expect(judge(invertedPicture, [picture({ filters })], [picture({ filters })])).toEqual([]);
  });

  const luma = Array.from({ length: 64 }, (_, i) => (i % 8) / 10);
  const negative = luma.map((v) => 0.8 - v);

  test('swapped light and dark without any filter are told from pixels', () => {
    const found = judge(invertedPicture, [picture({ luma: negative })], [picture({ luma })]);
    expect(found).toHaveLength(1);
    expect(found[0]?.measured['correlation']).toBe(-1); // derived: an exact negative correlates with -1
  });

  test('another file, or a flat field, proves nothing', () => {
    expect(judge(invertedPicture, [picture({ luma: negative, source: 'night.jpg' })], [picture({ luma })])).toEqual([]);
    expect(judge(invertedPicture, [picture({ luma: luma.map(() => 0.1) })], [picture({ luma })])).toEqual([]);
    expect(judge(invertedPicture, [picture({ luma: luma.map((v) => v / 2) })], [picture({ luma })])).toEqual([]);
  });
});

describe('text-contrast', () => {
  test.each([
    ['passes', {}, '#767676', '#ffffff', []],
    ['fails', {}, '#777777', '#ffffff', ['error']],
    ['passes in part', { contrast: { min: 2, max: 9 } }, '#777777', '#ffffff', ['warning']],
    ['inactive', { exempt: 'inactive' }, '#cccccc', '#ffffff', []],
    ['unknown', { unread: 'no backdrop' }, '#cccccc', '#ffffff', []],
    ['exempt by configuration is still judged', { exemptions: [0] }, '#cccccc', '#ffffff', ['error']],
    ['exempt by configuration, but fine', { exemptions: [0] }, '#333333', '#ffffff', []],
  ] as const)('%s', (_, facts, color, background, levels) => {
    expect(judge(textContrast, [textRun({ color, background, ...facts })], null).map((f) => f.level)).toEqual(levels);
  });

  test('the message names text, ratio (cut, not rounded), colours and need', () => {
    const [found] = judge(textContrast, [textRun({ color: '#777777', background: '#ffffff' })], null);
    expect(found?.message).toBe('“Quay 4” has a contrast of 4.47 (#777777 on #ffffff); it needs 4.5.');
    expect(found?.measured['contrast']).toBe(4.478);
  });

  // Understanding SC 1.4.3: 4.499 fails, so no digit may be rounded up; what the sentence says is the beginning of what is measured
  test.each([
    [4.4996, 4.499, '4.49'],
    [3.28976, 3.289, '3.28'],
    [4.1, 4.1, '4.10'],
    [2.3, 2.3, '2.30'],
  ])('%d is measured as %d and said as %s', (ratio, measured, shown) => {
    const pair = { color: '#777777', background: '#ffffff' };
    const found = judge(textContrast, [textRun({ ...pair, contrast: { min: ratio, max: ratio } })], null);
    expect(found.map((one) => one.measured['contrast'])).toEqual([measured]);
    expect(found[0]?.message).toContain(`a contrast of ${shown} `);
    const weak = graphic({ color: '#777777', against: '#ffffff', contrast: ratio - 2 });
    expect(judge(graphicContrast, [weak], null).map((one) => one.measured['contrast'])).toEqual([
      Number((measured - 2).toFixed(3)),
    ]);
  });

  test('text of the colour of its background is said to be invisible', () => {
    expect(judge(textContrast, [textRun({ color: '#121212', background: '#121212' })], null)[0]?.message).toContain(
      'cannot be seen',
    );
  });

  test('the reference theme’s ratio stands beside', () => {
    const [found] = judge(
      textContrast,
      [textRun({ color: '#333333', background: '#121212' })],
      [textRun({ color: '#333333', background: '#ffffff' })],
    );
    expect(found?.measured['contrastInReference']).toBe(12.634); // derived: 1.05 / (0.03310 + 0.05) = 12.6346, cut
  });
});

describe('graphic-contrast', () => {
  test.each([
    ['stands out', {}, '#767676', '#ffffff', 0],
    ['weak', {}, '#959595', '#ffffff', 1], // derived: (1 + .05) / (.30055 + .05) = 2.9953, not rounded up to 3
    ['just enough', {}, '#949494', '#ffffff', 0], // derived: (1 + .05) / (.29614 + .05) = 3.0335
    ['inactive', { exempt: 'inactive' }, '#cccccc', '#ffffff', 0],
    ['decoration', { exempt: 'decoration' }, '#cccccc', '#ffffff', 0],
    ['the browser’s own ring', { role: 'focus', byBrowser: true }, '#cccccc', '#ffffff', 0],
    ['exempt by configuration is still judged', { exemptions: [0] }, '#cccccc', '#ffffff', 1],
  ] as const)('%s', (_, facts, color, against, count) => {
    expect(judge(graphicContrast, [graphic({ color, against, ...facts })], null)).toHaveLength(count);
  });

  // derived: (1 + .05) / (.30055 + .05) = 2.995; (.21586 + .05) / (.00518 + .05) = 4.818 in the reference theme
  test('an icon beside words that say the same is told where it fades, with what it had', () => {
    const beside = { role: 'icon', exempt: 'decoration' } as const;
    const now = graphic({ ...beside, color: '#959595', against: '#ffffff' });
    const [found] = judge(graphicContrast, [now], [graphic({ ...beside, color: '#808080', against: '#101010' })]);
    expect(found).toMatchObject({ level: 'warning', check: 'graphic-contrast' });
    expect(found?.message).toBe('The icon #gauge fades: its contrast is 2.99 (#959595 against #ffffff), 4.81 in noon.');
  });

  test('no change at focus is said in words', () => {
    const [found] = judge(graphicContrast, [graphic({ color: '#ffffff', against: '#ffffff', role: 'focus' })], null);
    expect(found?.message).toContain('shows no focus indicator');
  });

  // published: SC 2.4.13 asks for an area of at least a 2 px thick perimeter; level AAA, so only on demand
  test('the area of a focus indicator counts on demand', () => {
    const thin = graphic({ color: '#000000', against: '#ffffff', role: 'focus', change: { perimeterShare: 0.5 } });
    expect(judge(graphicContrast, [thin], null)).toEqual([]);
    expect(judge(graphicContrast, [thin], null, { focusAppearance: 'on' })[0]?.message).toContain('50 %');
    expect(judge(graphicContrast, [{ ...thin, change: { perimeterShare: 1 } }], null, { focusAppearance: 'on' })).toEqual([]);
  });
});
