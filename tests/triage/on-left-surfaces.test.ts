// A surface that stayed as in the other theme, in a set without a token for it: what lies on it is told with it, and no ink is blamed.
import { expect, test } from 'vitest';
import { textContrast } from '../../src/checks/text-contrast.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { chooseFromBelow } from '../../src/triage/choose/from-below.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { unknownCauses } from '../../src/triage/tell/unknown-causes.ts';
import { openWorld } from '../../src/triage/world.ts';
import type { Finding } from '../../src/samples/finding.ts';
import { layer, made, shown, tableOf, token, written } from './made-cases.ts';

// Derived: on #f4f8fa #1b2429 reaches 14.8:1, #e6ecef 1.1:1 and #b7791f 3.4:1; on #101418 #e6ecef reaches 15.5:1.
const INK = ['#1b2429', '#e6ecef'] as const;
const LEFT = '#f4f8fa';
const index = tableOf({ ink: INK });

const surface = (theme: 0 | 1, over: Partial<Case> = {}): Case =>
  made({
    ...{ id: theme, key: `s${String(theme)}`, family: 's', theme, role: 'surface', fore: written(LEFT), seenFore: shown(LEFT) },
    ...{ elements: new Set([7]), wrote: [{ property: 'background-color', value: LEFT, rule: '.notice' }] },
    ...over,
  });
const text = (id: number, theme: 0 | 1, over: Partial<Case> = {}): Case =>
  made({
    ...{ id, key: `t${String(id)}`, family: 't', theme, fore: token(0, INK[theme]), seenFore: shown(INK[theme]) },
    ...{ back: [layer(written(LEFT))], seenBacks: [shown(LEFT)], grounds: new Set([7]) },
    ...over,
  });
const failing = (at: number, check = 'text-contrast'): Partial<Case> => ({ findings: new Map([[check, [at]]]) });
const found = (id: string): Finding => ({
  ...{ id, view: 'v', selector: `#${id}`, check: 'text-contrast', level: 'error', key: id, rect: [0, 0, 1, 1], message: '' },
  ...{ measured: {}, expected: {}, page: 'quay', theme: 'dusk', state: 'rest', viewport: 'desk', since: '', status: 'new' },
  cause: null,
});

function told(...cases: readonly Case[]): readonly (readonly [string, readonly number[], string])[] {
  const judges = new Map([[textContrast.id, textContrast.with()]]);
  const ground = openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
  const { explanations, unexplained, onLeft } = chooseFromBelow(ground, () => false);
  const causes = unknownCauses(ground, ['a', 'b', 'c'].map(found), unexplained, onLeft);
  return [
    ...causes.map(({ cause, findings }) => [cause.layer, findings, cause.why] as const),
    ...explanations.map(({ layer: of, faults }) => [of, faults.flatMap(({ findings }) => findings), ''] as const),
  ];
}

const LEFT_BEHIND =
  '.notice writes out #f4f8fa for its surface, which did not follow the theme in dusk; no token of the set would do there';

test('is one cause with all that can be read in the reference theme', () => {
  expect(told(surface(0), surface(1, failing(0, 'unthemed')), text(2, 0), text(3, 1, failing(1)))).toEqual([
    ['gap', [0, 1], `${LEFT_BEHIND}; until it follows, what lies on it cannot be read.`],
  ]);
});

test('also where the reference theme paints it by something else, as far as the ink is read elsewhere', () => {
  const [own, there] = [
    text(2, 1, { ...failing(1), family: 'own', fore: written(INK[1]) }),
    text(3, 1, {
      family: 'there',
      fore: written(INK[1]),
      back: [layer(written('#101418'))],
      seenBacks: [shown('#101418')],
      grounds: new Set([9]),
    }),
  ];
  expect(told(surface(0), surface(1, failing(0, 'unthemed')), own, there)).toEqual([
    ['gap', [0, 1], `${LEFT_BEHIND}; until it follows, what lies on it cannot be read.`],
  ]);
  const alone = told(surface(0), surface(1, failing(0, 'unthemed')), own);
  expect(alone.map(([, findings]) => findings)).toEqual([[0], [1]]);
});

test('what fails in the reference theme too is a matter of its own', () => {
  const faint = { fore: written('#b7791f'), seenFore: shown('#b7791f') };
  const all = told(
    surface(0),
    surface(1, failing(0, 'unthemed')),
    text(2, 0, { ...failing(1), ...faint }),
    text(3, 1, { ...failing(2), ...faint }),
  );
  expect(all.map(([, findings]) => findings)).toEqual([[0], [1, 2]]);
  expect(all[0]?.[2]).toBe(`${LEFT_BEHIND}.`);
});

test('is told by itself where the surface is no longer among what is unexplained', () => {
  const cases = [surface(0), surface(1, failing(0, 'unthemed')), text(2, 0), text(3, 1, failing(1))];
  const judges = new Map([[textContrast.id, textContrast.with()]]);
  const ground = openGround(openWorld({ index, cases, judges, level: 'AA' }), new Set());
  const { unexplained, onLeft } = chooseFromBelow(ground, () => false);
  const alone = unexplained.filter(({ check }) => check === 'text-contrast');
  const causes = unknownCauses(ground, ['a', 'b'].map(found), alone, onLeft);
  expect(causes.map(({ findings }) => findings)).toEqual([[1]]);
});
