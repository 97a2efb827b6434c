// The bench: a ramp or a token is moved, and every page answers. All is worked out in the page from the cases of a stored run.
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { toCssText } from '../../../src/colour/format-color.ts';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { tableUnder } from '../../../src/forecast/proposal.ts';
import type { Polar } from '../../../src/forecast/steer-lightness.ts';
import { ofPolar, polarOf } from '../../../src/forecast/steer-lightness.ts';
import type { TableIndex } from '../../../src/triage/tokens/table-index.ts';
import { indexTable } from '../../../src/triage/tokens/table-index.ts';
import { Empty, Waiting } from '../parts/bits.tsx';
import { Choice } from '../parts/choice.tsx';
import { amend } from '../route.ts';
import { siteForm } from '../site-files.ts';
import type { ScreenProps } from '../screens/screen-props.ts';
import { useAnswer } from '../use-answer.ts';
import { countText } from '../words.ts';
import type { CurveStep } from './curves.tsx';
import { Curves } from './curves.tsx';
import { Outcome } from './outcome.tsx';
import { readProposal, withChange, writeProposal } from './proposal-address.ts';
import { ProposalList } from './proposal-list.tsx';
import { StepEditor } from './step-editor.tsx';
import { cssOf } from './take-away.ts';
import { ThemeStrips } from './theme-strips.tsx';
import { useBench } from './use-bench.ts';

export function BenchScreen({ run, query }: ScreenProps): JSX.Element {
  const asking = useAnswer('bench', siteForm() ? null : { params: { run: run.id }, query: {} });
  if (siteForm())
    return (
      <Empty title="The bench needs the report server.">
        <p>
          Start it with <code>gloam serve</code>: a folder of files cannot work anything out.
        </p>
      </Empty>
    );
  if (asking.value === undefined) return <Waiting asking={asking} what="the cases of the run" />;
  if (!asking.value.known)
    return (
      <Empty title="No token files are known here.">
        <p>Name them under tokens in the configuration the report is started from.</p>
      </Empty>
    );
  return <OpenBench run={run.id} query={query} packed={asking.value.packed} />;
}

interface OpenBenchProps {
  readonly run: string;
  readonly query: ScreenProps['query'];
  readonly packed: string;
}

function OpenBench({ run, query, packed }: OpenBenchProps): JSX.Element {
  const kept = useMemo(() => readProposal(query['proposal']), [query['proposal']]);
  /** While a hand moves a point; the address is written when it lets go. */
  const [moving, setMoving] = useState<readonly ProposedChange[] | null>(null);
  const undone = useRef<(readonly ProposedChange[])[]>([]);
  const changes = moving ?? kept;
  const { table } = useMemo(() => JSON.parse(packed) as { readonly table: TableIndex['table'] }, [packed]);
  const index = useMemo(() => indexTable(table), [table]);
  const after = useMemo(() => indexTable(tableUnder(index, changes)), [index, changes]);
  const subject = query['ramp'] ?? table.ramps[0]?.name ?? table.tokens[0]?.path ?? '';
  const steps = table.ramps.find(({ name }) => name === subject)?.steps ?? [subject];
  const theme = table.themes.some(({ name }) => name === query['theme']) ? (query['theme'] ?? '') : (table.themes[0]?.name ?? '');
  const token = steps.find((path) => path === query['step']) ?? steps[Math.floor(steps.length / 2)] ?? '';
  const bench = useBench(packed, changes, { token, theme });
  const isSame = (one: ProposedChange, other: ProposedChange): boolean =>
    one.token === other.token &&
    index.governedBy(index.themeAt(one.theme), index.tokenAt(one.token)).includes(index.themeAt(other.theme));
  const keep = (list: readonly ProposedChange[]): void => {
    undone.current.push(kept);
    setMoving(null);
    amend({ proposal: writeProposal(list) });
  };
  const change = (path: string, to: string, isDone = true): void => {
    const list = withChange(kept, { token: path, theme, to }, isSame);
    if (isDone) keep(list);
    else setMoving(list);
  };
  const choose = (path: string, name = theme): void => {
    amend({ step: path, theme: name });
  };
  const themeAt = index.themeAt(theme);
  const curve = steps.flatMap((path): CurveStep[] => {
    const [before, then] = [index.colorOf(themeAt, index.tokenAt(path)), after.colorOf(themeAt, after.tokenAt(path))];
    if (before === null || then === null) return [];
    return [{ token: path, name: path, before: polarOf(before), after: polarOf(then) }];
  });
  const { weighed } = bench;
  return (
    <>
      <div class="head">
        <h1>Bench</h1>
        <span class="head-tools">
          <Choice
            label="Ramp or token"
            value={subject}
            options={[
              ...table.ramps.map(({ name }) => ({ value: name, label: `${name} (ramp)` })),
              ...table.tokens.map(({ path }) => ({ value: path, label: path })),
            ]}
            onChange={(name) => {
              amend({ ramp: name, step: undefined });
            }}
          />
          <Choice
            label="Theme"
            value={theme}
            options={table.themes.map(({ name }) => ({ value: name, label: name }))}
            onChange={(name) => {
              amend({ theme: name });
            }}
          />
        </span>
      </div>
      <Summary bench={bench} changes={changes.length} />
      <div class="bench">
        <div class="bench-left">
          <ThemeStrips index={index} after={after} tokens={steps} chosen={{ token, theme }} onChoose={choose} />
          <Curves
            theme={theme}
            steps={curve}
            chosen={token}
            band={bench.band}
            onChoose={choose}
            onMove={(path, polar: Polar, isDone) => {
              change(path, toCssText(ofPolar(polar)), isDone);
            }}
          />
          <p class="quiet">
            {bandWords(bench.band, theme, token)} Arrow keys move a point that has the focus; page up and down move it further.
          </p>
          <StepEditor
            index={index}
            after={after}
            token={token}
            theme={theme}
            onChange={(to) => {
              change(token, to);
            }}
          />
        </div>
        <div class="bench-right">
          <ProposalList
            run={run}
            changes={kept}
            name={query['name'] ?? ''}
            css={() => cssOf(index, after)}
            canUndo={undone.current.length > 0}
            onUndo={() => {
              const before = undone.current.pop();
              if (before !== undefined) amend({ proposal: writeProposal(before) });
            }}
            onDrop={(gone) => {
              keep(kept.filter((each) => each !== gone));
            }}
            onName={(name) => {
              amend({ name });
            }}
            onClear={() => {
              keep([]);
            }}
          />
          {weighed !== null && <Outcome weighed={weighed} run={run} />}
        </div>
      </div>
    </>
  );
}

function bandWords(band: ReturnType<typeof useBench>['band'], theme: string, token: string): string {
  if (band?.theme !== theme) return '';
  if (band.passes.length === 0) return `At no lightness of ${token} does every pair with it reach its contrast.`;
  const stretches = band.passes.map(([from, to]) => `${from.toFixed(0)} to ${to.toFixed(0)}`).join(' and ');
  return `Every pair with ${token} reaches its contrast at L* ${stretches}: the band on the curve.`;
}

/** Said once the hand rests, not at every move. */
function Summary({ bench, changes }: { readonly bench: ReturnType<typeof useBench>; readonly changes: number }): JSX.Element {
  const { opened, weighed } = bench;
  const words =
    opened === null
      ? 'Opening the cases …'
      : weighed === null || changes === 0
        ? `${countText(opened.samples, 'sample')} in ${countText(opened.cases, 'case')}: nothing is changed.`
        : `Mends ${countText(weighed.mends, 'finding')}, breaks ${countText(weighed.breaks, 'place')}, leaves ${countText(weighed.leaves, 'finding')}.`;
  const [said, setSaid] = useState('');
  useEffect(() => {
    const wait = setTimeout(() => {
      setSaid(words);
    }, 600);
    return () => {
      clearTimeout(wait);
    };
  }, [words]);
  return (
    <p class="bench-summary">
      <span aria-hidden="true">{words}</span>
      <span class="unseen" role="status">
        {said}
      </span>
    </p>
  );
}
