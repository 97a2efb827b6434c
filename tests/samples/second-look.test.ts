// Which states come once more, and which of two looks counts.
import { expect, test } from 'vitest';
import { openSecondLook } from '../../src/cli/run/second-look.ts';
import type { SecondLook } from '../../src/cli/run/second-look.ts';
import type { State } from '../../src/plan/configuration.ts';
import type { ViewResult } from '../../src/samples/captured-view.ts';
import type { View } from '../../src/samples/view.ts';
import { captured, planOf } from '../ledger/synthetic-run.ts';

const MENU: State = { name: 'menu', kind: 'click', selector: '#menu' };
const [NOON] = planOf(['station-list']);

function lookAt(state: string, shot: string): ViewResult {
  if (NOON === undefined) throw new Error('no view');
  const view: View = { ...NOON, state, id: `${NOON.page}@${NOON.theme}/${state}/${NOON.viewport}` };
  return captured(view, { shot: Buffer.from(shot), samples: [] });
}

const idsOf = (results: readonly ViewResult[]): readonly string[] => results.map(({ view }) => view.state);

/** As judging asks: group by group, rest first. */
function seenAfterRest(): SecondLook {
  const looks = openSecondLook([], [MENU]);
  expect(looks.doubted([lookAt('rest', 'quay')])).toEqual([]);
  return looks;
}

test('a state that looks as at rest comes once more, once', () => {
  const looks = seenAfterRest();
  expect(idsOf(looks.doubted([lookAt('menu', 'quay')]))).toEqual(['menu']);
  expect(looks.due().map(({ state }) => state)).toEqual(['menu']);
  expect(looks.doubted([lookAt('menu', 'quay')])).toEqual([]);
});

test('a state that shows something does not', () => {
  expect(seenAfterRest().doubted([lookAt('menu', 'quay with a menu')])).toEqual([]);
});

test('the second look counts where it shows something, and says that it was the second', () => {
  const looks = seenAfterRest();
  looks.doubted([lookAt('menu', 'quay')]);
  const { result } = looks.better(lookAt('menu', 'quay with a menu'));
  expect(result).toMatchObject({ shot: Buffer.from('quay with a menu'), notes: [{ code: 'retried' }] });
});

test('where it shows nothing either, the first one stays', () => {
  const looks = seenAfterRest();
  looks.doubted([lookAt('menu', 'quay')]);
  expect(looks.better(lookAt('menu', 'quay'))).toMatchObject({ isSecond: true, isStored: true, result: { notes: [] } });
});
