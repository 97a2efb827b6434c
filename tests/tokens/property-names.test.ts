// Token path → custom property, and the names held against a page.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { NamePattern } from '../../src/tokens/property-names.ts';
import { escapeName, memberNames, propertyNames } from '../../src/tokens/property-names.ts';
import { unescapeName } from '../../src/tokens/css/find-vars.ts';
import { verifyNames } from '../../src/tokens/verify-names.ts';
import { readWith, srgb } from './read.ts';

// The token format defines no names (F6.10.3): the defaults are ours, the rows derived from them by hand.
test.each<[string, NamePattern, string]>([
  ['silt.100', {}, '--silt-100'],
  ['silt.100', { prefix: 'tg' }, '--tg-silt-100'],
  ['hue.silt.100', { drop: ['hue'] }, '--silt-100'],
  ['color.hue.silt.100', { drop: ['hue', 'color'] }, '--silt-100'],
  ['hue.hue.100', { drop: ['hue'] }, '--hue-100'],
  ['hue', { drop: ['hue'] }, '--hue'],
  ['dial.faceRim', { case: 'kebab' }, '--dial-face-rim'],
  ['dial.HTTPRim2Low', { case: 'kebab' }, '--dial-http-rim2-low'],
  ['dial.faceRim', {}, '--dial-faceRim'],
  ['wet bank.n/s', {}, '--wet-bank-n-s'],
  ['silt.$root', {}, '--silt'],
  ['silt.$root', { root: 'root' }, '--silt-root'],
  ['dial.face', { sep: '_' }, '--dial_face'],
  ['dial.face', { sep: '--', prefix: 'tg' }, '--tg--dial--face'],
  ['Moule.été', { case: 'lower' }, '--moule-été'],
  ['wet-bank.lip', {}, '--wet-bank-lip'],
  ['wet.bank-lip', {}, '--wet-bank-lip'],
  ['wet bank.n/s', { replace: '_' }, '--wet_bank-n_s'],
  ['wet bank.n/s', { replace: '\\' }, '--wet bank-n/s'],
  ['dial.face', { exceptions: { 'dial.face': ['--old-face'] } }, '--old-face'],
])('%s with %j is %s', (path, pattern, expected) => {
  expect(propertyNames(path, [pattern])).toEqual([expected]);
});

test('several patterns are tried in turn, each name once; an exception stands alone', () => {
  expect(propertyNames('dial.face', [{}, { prefix: 'tg' }, {}])).toEqual(['--dial-face', '--tg-dial-face']);
  expect(propertyNames('dial.face', [{}, { exceptions: { 'dial.face': ['--a', '--b'] } }])).toEqual(['--a', '--b']);
  expect(propertyNames('dial.face', [])).toEqual(['--dial-face']);
});

test('a composite may have one property per member', () => {
  expect(memberNames(['--fall'], 'offsetX')).toEqual(['--fall-offset-x']);
});

test('a name with characters that CSS escapes comes back the same when read (CSS Syntax 3, §4.3.7)', () => {
  expect(escapeName('--n/s')).toBe('--n\\/s');
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      const name = `--${text.replaceAll('\0', '')}`;
      expect(unescapeName(escapeName(name))).toBe(name);
    }),
  );
});

describe('held against the page', () => {
  const { graph } = readWith(
    {
      'base.json': {
        $type: 'color',
        silt: { '100': { $value: srgb('#cc9966') } },
        'wet-bank': { lip: { $value: srgb('#336699') } },
        wet: { 'bank-lip': { $value: '{wet-bank.lip}' }, other: { $value: srgb('#000000') } },
        'wet.x': {},
        Rim: { $value: srgb('#ffffff') },
        rim: { $value: srgb('#ffffff') },
      },
      'night.json': { wet: { 'bank-lip': { $value: '{silt.100}' } } },
    },
    { base: ['base.json'], themes: { day: [], night: ['night.json'] } },
  );

  test('found, missing, and properties that no token accounts for', () => {
    const { found, missing, unknown } = verifyNames({
      graph,
      patterns: [{}, { prefix: 'tg' }],
      pageProperties: ['--silt-100', '--tg-wet-other', '--lost'],
    });
    expect([...found]).toEqual([
      ['silt.100', '--silt-100'],
      ['wet.other', '--tg-wet-other'],
    ]);
    expect(missing.find(({ token }) => token === 'rim')?.tried).toEqual(['--rim', '--tg-rim']);
    expect(unknown).toEqual(['--lost']);
  });

  test('a composite is found by the properties of its members, and these are not unknown', () => {
    const px = { value: 1, unit: 'px' };
    const fall = { $type: 'shadow', $value: { color: srgb('#000000'), offsetX: px, offsetY: px, blur: px, spread: px } };
    const { graph: shadows } = readWith({ 'a.json': { fall } }, { base: ['a.json'], themes: { day: [] } });
    const pageProperties = ['--fall-color', '--fall-offset-x', '--fall-colour'];
    const { found, missing, unknown } = verifyNames({ graph: shadows, patterns: [{}], pageProperties });
    expect([[...found], missing, unknown]).toEqual([[['fall', '--fall-color']], [], ['--fall-colour']]);
  });

  test('two tokens on one property collide, harmlessly only if they resolve alike in every theme', () => {
    expect(verifyNames({ graph, patterns: [{}], pageProperties: [] }).collisions).toEqual([
      { property: '--wet-bank-lip', tokens: ['wet-bank.lip', 'wet.bank-lip'], harmless: false },
    ]);
    expect(verifyNames({ graph, patterns: [{ case: 'lower' }], pageProperties: [] }).collisions).toContainEqual({
      property: '--rim',
      tokens: ['Rim', 'rim'],
      harmless: true,
    });
  });
});
