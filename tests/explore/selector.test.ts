// Expected values are derived by hand from Selectors Level 4: what carries the class or attribute, and whether the rule styles it.
import { describe, expect, test } from 'vitest';
import { switchesIn } from '../../runner/explore/selector.ts';

/** `name=value on carrier, part` or `.class on carrier, part`; `?` where the selector does not say what carries it. */
function told(selector: string): readonly string[] {
  return switchesIn(selector).map(({ switch: s, on, part }) => {
    const what = s.kind === 'class' ? `.${s.name}` : `${s.name}=${s.value}`;
    return `${what} on ${on ?? '?'}, ${part}`;
  });
}

describe('switches in a selector', () => {
  test.each([
    ['[data-tone="dusk"]', ['data-tone=dusk on ?, self']],
    [':root[data-tone=dusk]', ['data-tone=dusk on html, self']],
    ["html[data-tone='dusk'] .gauge", ['data-tone=dusk on html, inside', '.gauge on ?, self']],
    ['.dusk', ['.dusk on ?, self']],
    ['html.dusk', ['.dusk on html, self']],
    ['body.dusk .gauge > .needle', ['.dusk on body, inside', '.gauge on ?, inside', '.needle on ?, self']],
    ['.dusk .gauge:hover::before', ['.dusk on ?, inside', '.gauge on ?, self']],
    ['.harbour.dusk', ['.harbour on .dusk, self', '.dusk on .harbour, self']],
    ['.dusk\\:ink:is(.dusk *)', ['.dusk:ink on ?, self', '.dusk on ?, inside']],
    [':where(.dusk, .dusk *)', ['.dusk on ?, self', '.dusk on ?, inside']],
    [':is(html, body).dusk', ['.dusk on ?, self']],
    [':host([tone="dusk"])', ['tone=dusk on ?, self']],
    [':root:not([data-tone="noon"])', []],
    ['[data-theme="dusk"], [data-theme="stark"]', ['data-theme=dusk on ?, self', 'data-theme=stark on ?, self']],
    ['[class*="dusk"]', []],
    ['[data-list="a,b"] p', ['data-list=a,b on ?, inside']],
    ['a[href="x"]:not(.b) ~ i', ['href=x on a, inside']],
    ['*', []],
    ['', []],
    ['[', []],
    [':is(', []],
  ] as const)('%s', (selector, uses) => {
    expect(told(selector)).toEqual(uses);
  });
});
