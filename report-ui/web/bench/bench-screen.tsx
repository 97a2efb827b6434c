// The bench: a ramp or a token is moved, and every page answers. All is worked out in the page from the cases of a stored run.
import type { JSX } from 'preact';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { toCssText } from '../../../src/colour/format-color.ts';
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import { grownTable, tableUnder } from '../../../src/forecast/proposal.ts';
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
import { AddStep } from './add-step.tsx';
import { ComparePart } from './compare-part.tsx';
import type { CurveStep } from './curves.tsx';
import { Curves } from './curves.tsx';
import { Outcome } from './outcome.tsx';
import { PageAhead } from './page-ahead.tsx';
import { readPins, readProposal, withChange, withoutChange, writePins, writeProposal } from './proposal-address.ts';
import { ProposalList } from './proposal-list.tsx';
import { StepEditor } from './step-editor.tsx';
import { cssOf } from './take-away.ts';
import { ThemeStrips } from './theme-strips.tsx';
import { useBench } from './use-bench.ts';
import { useWork } from './use-work.ts';
import { WorkPart } from './work-part.tsx';

export function BenchScreen({ session, run, query }: ScreenProps): JSX.Element {
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
  const { packed, works } = asking.value;
  return <OpenBench session={session} run={run} query={query} packed={packed} works={works} />;
}

interface OpenBenchProps extends ScreenProps {
  readonly packed: string;
  /** The server may be given work. */
  readonly works: boolean;
}

function OpenBench({ session, run, query, packed, works }: OpenBenchProps): JSX.Element {
  const other = useMemo(() => (query['other'] === undefined ? null : readProposal(query['other'])), [query['other']]);
  const names = [query['name'] ?? 'Proposal', query['otherName'] ?? 'the other one'] as const;
  const pins = useMemo(() => readPins(query['pins']), [query['pins']]);
  const kept = useMemo(() => readProposal(query['proposal']), [query['proposal']]);
  /** While a hand moves a point; the address is written when it lets go. */
  const [moving, setMoving] = useState<readonly ProposedChange[] | null>(null);
  const undone = useRef<(readonly ProposedChange[])[]>([]);
  const changes = moving ?? kept;
  const { table } = useMemo(() => JSON.parse(packed) as { readonly table: TableIndex['table'] }, [packed]);
  const asStored = useMemo(() => indexTable(table), [table]);
  const added = kept.filter(({ beside }) => beside !== undefined);
  const index = useMemo(() => indexTable(grownTable(asStored, added)), [asStored, JSON.stringify(added)]);
  const after = useMemo(() => indexTable(tableUnder(asStored, changes)), [asStored, changes]);
  const subject = query['ramp'] ?? table.ramps[0]?.name ?? table.tokens[0]?.path ?? '';
  const steps = index.table.ramps.find(({ name }) => name === subject)?.steps ?? [subject];
  const theme = table.themes.some(({ name }) => name === query['theme']) ? (query['theme'] ?? '') : (table.themes[0]?.name ?? '');
  const token = steps.find((path) => path === query['step']) ?? steps[Math.floor(steps.length / 2)] ?? '';
  const bench = useBench(packed, changes, { token, theme }, other);
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
  const working = useWork(session.token, ({ solved }) => {
    if (solved !== null) keep(readProposal(solved.changes));
  });
  const views = bench.opened?.views ?? [];
  const seen = views.find(({ id }) => id === query['see']);
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
            {asStored.tokenAt(token) >= 0 && bandWords(bench.band, theme, token)} Arrow keys move a point that has the focus; page
            up and down move it further.
          </p>
          {asStored.stepOf(asStored.tokenAt(steps[0] ?? '')) !== null && (
            <AddStep
              key={token}
              index={index}
              token={token}
              next={steps[steps.indexOf(token) + 1] ?? null}
              onAdd={(list) => {
                keep([...kept, ...list]);
                choose(list[0]?.token ?? token);
              }}
            />
          )}
          <StepEditor
            index={index}
            after={after}
            token={token}
            theme={theme}
            onChange={(to) => {
              change(token, to);
            }}
            pinned={pins.includes(token)}
            onPin={(pinned) => {
              amend({ pins: writePins(pinned ? [...pins, token] : pins.filter((each) => each !== token)) });
            }}
          />
        </div>
        <div class="bench-right">
          <ProposalList
            run={run.id}
            changes={kept}
            name={query['name'] ?? ''}
            css={() => cssOf(asStored, after)}
            canUndo={undone.current.length > 0}
            onUndo={() => {
              const before = undone.current.pop();
              if (before !== undefined) amend({ proposal: writeProposal(before) });
            }}
            onDrop={(gone) => {
              keep(withoutChange(kept, gone));
            }}
            onName={(name) => {
              amend({ name });
            }}
            onClear={() => {
              keep([]);
            }}
            onSetAside={() => {
              amend({ other: writeProposal(kept) || '[]', otherName: query['name'] ?? 'set aside', name: undefined });
            }}
          />
          {other !== null && (
            <ComparePart
              sides={[
                { name: names[0], changes: kept, weighed },
                { name: names[1], changes: other, weighed: bench.other },
              ]}
              onSwap={() => {
                undone.current.push(kept);
                amend({
                  ...{ proposal: writeProposal(other), name: query['otherName'] },
                  ...{ other: writeProposal(kept) || '[]', otherName: query['name'] ?? 'Proposal' },
                });
              }}
              onDrop={() => {
                amend({ other: undefined, otherName: undefined });
              }}
            />
          )}
          <WorkPart
            working={working}
            works={works}
            hasChanges={kept.length > 0}
            pins={pins}
            onBegin={(kind) => {
              working.begin({ run: run.id, kind, changes: writeProposal(kept), pins: [...pins] });
            }}
          />
          {weighed !== null && (
            <Outcome
              weighed={weighed}
              run={run.id}
              cut={session.sharp}
              onSee={(view) => {
                amend({ see: view });
              }}
            />
          )}
        </div>
      </div>
      <div class="bench-see">
        <Choice
          label="See a whole page"
          value={seen?.id ?? ''}
          options={[
            { value: '', label: 'none' },
            ...views
              .filter((view) => view.theme === theme || view.id === seen?.id)
              .map(({ id, page, state, viewport }) => ({ value: id, label: `${page}, ${state}, ${viewport}` })),
          ]}
          onChange={(view) => {
            amend({ see: view });
          }}
        />
        {seen !== undefined && <PageAhead key={seen.id} run={run} view={seen} changes={kept} works={works} />}
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
