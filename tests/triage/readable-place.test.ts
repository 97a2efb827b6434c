import { expect, test } from 'vitest';
import { readableName, readablePlace } from '../../src/triage/tell/readable-place.ts';

// Derived: what somebody reads on the page, or called the part.
test.each([
  ['html > body > div:nth-of-type(3) > button', 'button"Open the sluice"', 'button "Open the sluice"'],
  ['html > body > figure > img', 'img[alt=The old mole]|picture', 'img[alt=The old mole]'],
  ['html > body > a', 'a[href=/log]"Log"', 'a[href=/log] "Log"'],
  // Nothing but its tag tells it from others.
  ['html > body > div:nth-of-type(2)', 'div|face', 'html > body > div:nth-of-type(2)'],
  ['#gauge', 'p#gauge"Level"', '#gauge'],
  // Ids that a framework counted up.
  ['#radix-_r_3_ > label > input', 'input[placeholder=Why]|edge', 'input[placeholder=Why]'],
  ['#\\:r7\\: > button', 'button"Silence"', 'button "Silence"'],
  ['#panel-\\:r7\\:', 'div[role=tabpanel]|face', 'div[role=tabpanel]'],
  ['#«r7»', 'a[href=/log]"Log"', 'a[href=/log] "Log"'],
  ['#radix-_r_3_', 'div|face', '#radix-_r_3_'],
  ['#pier_road_2', 'p#pier_road_2"Level"', '#pier_road_2'],
])('%s with the key %s', (selector, key, expected) => {
  expect(readablePlace(selector, { selector, key })).toBe(expected);
});

// Keys have each number as 0 and the first 60 letters (runner/page/scene/identity.ts).
test.each([
  ['p"Staffed until 0:0"', 'Staffed until 06:30', 'p "Staffed until 06:30"'],
  ['span"0"~2', ' 4 ', 'span "4"~2'],
  // The run is a part of what the element says.
  ['button"watch level 0"', 'watch', 'button "watch level 0"'],
  ['button"watch level 0"', '', 'button "watch level 0"'],
  [
    'p"Keep to the east side of the channel until 0:0 and call the mo"',
    'Keep to the east side of the channel until 17:40 and call the mole',
    'p "Keep to the east side of the …"',
  ],
  ['p"Gezeitenstationsverwaltungsgesellschaft"', '', 'p "Gezeitenstationsverwaltungsgesel …"'],
])('%s where %j is read: %s', (key, text, expected) => {
  const selector = 'html > body > p:nth-of-type(2)';
  expect(readablePlace(selector, { selector, key }, text)).toBe(expected);
});

test('a rule that more than one element has keeps its selector', () => {
  expect(readablePlace('.card', { selector: 'html > body > div', key: 'div"Mole"' })).toBe('.card');
});

test.each([
  ['.card_x7Qz9', 'card (.card_x7Qz9)'],
  ['.link__Ab12C:hover', 'link (.link__Ab12C:hover)'],
  ['._note_1x7q9_12', 'note (._note_1x7q9_12)'],
  ['.Button_root__a1B2c .label', 'Button_root (.Button_root__a1B2c .label)'],
  // Nobody gave these a name, or somebody gave them all of it.
  ['.css-1a2b3c4', '.css-1a2b3c4'],
  ['.btn-primary', '.btn-primary'],
  ['.card__title', '.card__title'],
  ['.grid-cols-12', '.grid-cols-12'],
  ['#gauge .row', '#gauge .row'],
])('%s is shown as %s', (rule, shown) => {
  expect(readableName(rule)).toBe(shown);
});

// CSS modules of libraries and class names that scripts make have no author's name in them.
test.each([
  ['.m_77c9d27d', 'button "Open"', 'button "Open" (.m_77c9d27d)'],
  ['.css-1a2b3c:hover', 'a[href=#] "more"', 'a[href=#] "more" (.css-1a2b3c:hover)'],
  ['.m_77c9d27d .note', 'button "Open"', '.m_77c9d27d .note'],
  ['.m_77c9d27d', 'html > body > div:nth-of-type(2)', '.m_77c9d27d'],
  ['.m_77c9d27d', 'html > body > fieldset:nth-of-type(2)', 'fieldset (.m_77c9d27d)'],
  ['.m_77c9d27d', 'html > body > div:nth-of-type(2) > hr', 'hr (.m_77c9d27d)'],
  // After the name of a tool anything is a hash.
  ['.css-vmxqpv', 'button "Open"', 'button "Open" (.css-vmxqpv)'],
  ['.m_77c9d27d', '', '.m_77c9d27d'],
  ['.card_x7Qz9', 'button "Open"', 'card (.card_x7Qz9)'],
  ['.card', 'button "Open"', '.card'],
])('%s at %s', (rule, there, shown) => {
  expect(readableName(rule, there)).toBe(shown);
});

test.each([
  ['.card, .note, .plate, .row', '.card, .note, .plate, .row'],
  ['input:not([type], .own), input[type="a,b"], select, textarea, .field', 'input:not([type], .own), input[type="a,b"] and 3 more'],
])('of many selectors the first are told: %s', (rule, told) => {
  expect(readableName(rule)).toBe(told);
});
