// What lies beneath a modal layer: nothing is said of it, nothing compared with it, and exports call it inactive.
import { expect, test } from 'vitest';
import type { SampleOf } from '../../src/checks/check.ts';
import { verdictOnSample } from '../../src/checks/verdict-on-sample.ts';
import type { JudgedView } from '../../src/checks/run-checks.ts';
import { runChecks } from '../../src/checks/run-checks.ts';
import { exportedSample } from '../../src/ledger/read/exported-sample.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { SampleVerdict } from '../../src/samples/sample-verdict.ts';
import { surface, textRun, view } from './made-samples.ts';

const SETTINGS = { reference: 'noon', checks: {}, exempt: [], today: '2031-05-04', run: 'run-7' };
const behind = 'behind the veil div#veil';
const found = (noon: readonly Sample[], dusk: readonly Sample[]): readonly string[] => {
  const views: readonly JudgedView[] = [
    { view: view('noon'), tone: 'light', samples: noon },
    { view: view('dusk'), tone: 'dark', samples: dusk },
  ];
  return runChecks(views, SETTINGS).map(({ check, theme }) => `${check} ${theme}`);
};
const noon = surface({ color: '#ffffff', around: '#f5f7f9' });
const dusk = surface({ color: '#ffffff', around: '#121212' });

test('a white panel that stayed is told, and not while a dialog lies above it', () => {
  expect(found([noon], [dusk])).toContain('unthemed dusk');
  expect(found([{ ...noon, behind }], [{ ...dusk, behind }])).toEqual([]);
});

test('what lies beneath a layer in the reference theme is no reference', () => {
  expect(found([{ ...noon, behind }], [dusk])).not.toContain('unthemed dusk');
});

test('weak text is told, and not while a dialog lies above it', () => {
  const weak = textRun({ color: '#c8c8c8', background: '#ffffff' });
  expect(found([weak], [])).toContain('text-contrast noon');
  expect(found([{ ...weak, behind }], [])).toEqual([]);
});

test('exported, it is inactive: scripts know no other word', () => {
  const text = textRun({ color: '#c8c8c8', background: '#ffffff', behind, exempt: 'behind', why: behind });
  const verdictOn = (sample: SampleOf<'text'> | SampleOf<'graphic'>): SampleVerdict =>
    verdictOnSample(sample, view('dusk'), { level: 'AA', exempt: [], today: SETTINGS.today });
  expect(exportedSample(text, verdictOn)).toMatchObject({ exempt: 'inactive', verdict: 'exempt', why: behind });
});
