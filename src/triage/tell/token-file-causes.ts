// Findings of the token files: evidence for the cause that would change the same token, else a cause of their own.
import { fnv1a64 } from '../../checks/finding-id.ts';
import type { CauseLayer, Finding } from '../../samples/finding.ts';
import { CAUSE_LAYERS } from '../../samples/finding.ts';
import type { ExplainedCause } from './causes.ts';
import { appendTo } from '../counting.ts';
import type { TableIndex } from '../tokens/table-index.ts';

/** How sure a judgement on files alone is: no page was asked (ours). */
const FILES_ALONE = 0.6;

interface FileFault {
  /** Place in the list of findings. */
  readonly at: number;
  readonly finding: Finding;
  readonly token: string;
  readonly layer: CauseLayer;
  readonly themes: readonly string[];
}

/** @returns the causes with these findings among theirs, and those that only the files show; notes alone make no cause */
export function withTokenFaults(
  index: TableIndex,
  causes: readonly ExplainedCause[],
  findings: readonly Finding[],
): readonly ExplainedCause[] {
  const faults = findings.flatMap((finding, at) =>
    finding.check === 'token-fault' && finding.status !== 'exempt' ? [faultOf(finding, at)] : [],
  );
  const left = new Map<string, FileFault[]>();
  const added = new Map<ExplainedCause, FileFault[]>();
  for (const fault of faults) {
    const known = causes.find((each) => explains(index, each, fault));
    if (known !== undefined) appendTo(added, known, fault);
    else if (fault.finding.level !== 'note') appendTo(left, `${fault.layer} ${fault.token}`, fault);
  }
  return [
    ...causes.map((each) => joined(each, added.get(each) ?? [])),
    ...[...left.values()].map((group) => ownCause(index, group)),
  ];
}

function faultOf(finding: Finding, at: number): FileFault {
  const layer = CAUSE_LAYERS.find((each) => each === finding.measured['layer']) ?? 'token';
  const themes = String(finding.measured['themes'] ?? finding.theme).split(', ');
  return { at, finding, token: finding.selector, layer, themes };
}

/** The cause changes this very token, or takes it away from where it is used, in a theme the fault names. */
function explains(index: TableIndex, { changes, cause }: ExplainedCause, { token, themes }: FileFault): boolean {
  const { repair } = cause;
  const same = changes.some(
    (change) => (change.kind === 'value' || change.kind === 'alias') && index.pathOf(change.token) === token,
  );
  return (same || repair?.from === token) && (repair?.themes ?? []).some((theme) => themes.includes(theme));
}

function joined(one: ExplainedCause, faults: readonly FileFault[]): ExplainedCause {
  if (faults.length === 0) return one;
  const findings = [...one.findings, ...faults.map(({ at }) => at)].sort((a, b) => a - b);
  return { ...one, findings, cause: { ...one.cause, findings: findings.length } };
}

function ownCause(index: TableIndex, group: readonly FileFault[]): ExplainedCause {
  const [first] = group;
  if (first === undefined) throw new RangeError('a group has at least one fault');
  const { token, layer, finding } = first;
  const isStep = index.stepOf(index.tokenAt(token)) !== null;
  const { file, line } = finding.measured;
  const themes = new Set(group.flatMap((fault) => fault.themes));
  return {
    cause: {
      id: fnv1a64(`files ${layer} ${token}`),
      layer,
      ...(isStep ? { step: token } : { token }),
      chain: [
        {
          token,
          value: '',
          ...(typeof file === 'string' && file !== '' ? { file } : {}),
          ...(typeof line === 'number' && line > 0 ? { line } : {}),
        },
      ],
      findings: group.length,
      themes: index.table.themes.flatMap(({ name }) => (themes.has(name) ? [name] : [])),
      pages: 0,
      confidence: FILES_ALONE,
      why: group.toSorted((a, b) => a.at - b.at).map((fault) => fault.finding.message)[0] ?? '',
    },
    findings: group.map(({ at }) => at).sort((a, b) => a - b),
    changes: [],
  };
}
