// What is asked of a token that is missing is asked of the page with all else mended: a surface may be about to get another colour.
import { expect, test } from 'vitest';
import { textContrast } from '../../src/checks/text-contrast.ts';
import type { Case } from '../../src/triage/cases/case.ts';
import { chooseFromBelow } from '../../src/triage/choose/from-below.ts';
import { splitByRule } from '../../src/triage/choose/split-by-rule.ts';
import { openGround } from '../../src/triage/propose/open-ground.ts';
import { causeOf } from '../../src/triage/tell/causes.ts';
import { withOrder } from '../../src/triage/tell/hangs-on.ts';
import { openWorld } from '../../src/triage/world.ts';
import { layer, made, shown, tableOf, token } from './made-cases.ts';
import { textRun } from '../checks/made-samples.ts';

// Derived: white and #409eff reach 2.8:1 together; on #0a0a0a the blue reaches 7:1, white on #223344 12.7:1.
const TOKENS = {
  lead: ['#409eff', '#409eff'],
  white: ['#ffffff', '#ffffff'],
  page: ['#ffffff', '#0a0a0a'],
  deck: ['#223344', '#223344'],
} as const;
type Name = keyof typeof TOKENS;
const index = tableOf(TOKENS);
const [LEAD, WHITE, PAGE, DECK] = [0, 1, 2, 3];
const AT: Readonly<Record<Name, number>> = { lead: LEAD, white: WHITE, page: PAGE, deck: DECK };

function text(id: number, theme: 0 | 1, ink: Name, on: Name, over: Partial<Case> = {}): Case {
  const [color, back] = [TOKENS[ink][theme], TOKENS[on][theme]];
  return made({
    ...{ id, key: `k${String(id)}`, family: `${ink} on ${on}`, theme, fore: token(AT[ink], color), seenFore: shown(color) },
    ...{ back: [layer(token(AT[on], back))], seenBacks: [shown(back)] },
    place: { ...made().place, sample: textRun({ color, background: back, selector: `#t${String(id)}`, key: `t${String(id)}` }) },
    ...over,
  });
}
const failing = (...at: readonly number[]): Partial<Case> => ({ findings: new Map([['text-contrast', at]]), samples: at.length });

const cases = [
  text(0, 0, 'lead', 'page', failing(0, 1, 2, 3, 4, 5)),
  text(1, 1, 'lead', 'page', { samples: 6 }),
  text(2, 0, 'white', 'lead', failing(6)),
  text(3, 1, 'white', 'lead', failing(7)),
  text(4, 0, 'white', 'deck', { samples: 20 }),
  text(5, 1, 'white', 'deck', { samples: 20 }),
];

test('where the other repair makes it readable in one theme, its colour stays there', () => {
  const ground = openGround(
    openWorld({ index, cases, judges: new Map([[textContrast.id, textContrast.with()]]), level: 'AA' }),
    new Set(),
  );
  const { explanations, unexplained } = chooseFromBelow(ground, () => false);
  expect(unexplained).toEqual([]);
  expect(explanations.map((each) => each.layer).toSorted()).toEqual(['gap', 'token']);
  const ruled = splitByRule(explanations);
  const causes = withOrder(
    ground,
    ruled,
    ruled.map((each) => causeOf(ground, [], each)),
  );
  const [token] = causes.filter(({ cause }) => cause.layer === 'token');
  const [missing] = causes.filter(({ cause }) => cause.layer === 'gap');
  expect(token?.cause.repair?.themes).toEqual(['noon']);
  const repair = missing?.cause.repair;
  const asks = repair?.change === 'add' ? repair.asks : [];
  expect(asks.map(({ on, suggestion }) => [on, suggestion])).toEqual([
    [token?.cause.repair?.to, '#ffffff'],
    ['#409eff', expect.stringMatching(/^#/u)],
  ]);
  expect(missing?.after).toEqual([token]);
});
