// The verdict in SARIF 2.1.0 (OASIS): a run for each theme; a result for each criterion and each finding that counts.
import { addressOf, oneLine } from './form.ts';
import type { Form, FormInput } from './form.ts';
import type { Cause } from '../../samples/finding.ts';
import type { GateFinding } from '../facts.ts';
import type { Criterion, GateVerdict } from '../verdict.ts';
import { causeTitle, checkTitle } from '../words.ts';

export const sarif: Form = {
  file: 'gate.sarif',
  about: 'SARIF 2.1.0, for tools that read analysis results',
  write: (input) =>
    `${JSON.stringify(
      {
        $schema: 'https://json.schemastore.org/sarif-2.1.0-rtm.5.json',
        version: '2.1.0',
        runs: input.verdicts.map((verdict) => toRun(verdict, input)),
      },
      null,
      2,
    )}\n`,
};

interface Rule {
  readonly id: string;
  readonly shortDescription: { readonly text: string };
}

function toRun(verdict: GateVerdict, input: FormInput): unknown {
  const rules: readonly Rule[] = [
    ...verdict.criteria.map((c) => ({ id: `gate/${c.id}`, shortDescription: { text: `Launch criterion: ${c.name}` } })),
    ...[...new Set(verdict.findings.map((f) => f.check))].map((check) => ({
      id: check,
      shortDescription: { text: checkTitle(check) },
    })),
  ];
  const index = new Map(rules.map((rule, i) => [rule.id, i]));
  const causes = new Map(verdict.causes.map((cause) => [cause.id, cause]));
  return {
    tool: { driver: { name: 'gloam', semanticVersion: input.version, rules } },
    automationDetails: { id: `gloam/${verdict.theme}/${verdict.run.id}` },
    invocations: [
      {
        executionSuccessful: verdict.run.finishedAt !== null,
        startTimeUtc: utc(verdict.run.startedAt),
        ...(verdict.run.finishedAt === null ? {} : { endTimeUtc: utc(verdict.run.finishedAt) }),
        exitCode: verdict.may ? 0 : 1,
        ...(verdict.notAsked.length > 0
          ? { toolExecutionNotifications: verdict.notAsked.map((said) => ({ level: 'warning', message: { text: oneLine(said) } })) }
          : {}),
      },
    ],
    columnKind: 'utf16CodeUnits',
    results: [
      ...verdict.criteria.map((criterion) => criterionResult(criterion, index, input)),
      ...verdict.findings.map((finding) =>
        findingResult(finding, finding.cause === null ? undefined : causes.get(finding.cause), index, verdict, input),
      ),
    ],
  };
}

/** Section 3.9: date and time in UTC, ending in Z. */
function utc(iso: string): string {
  return new Date(iso).toISOString();
}

/** Section 3.27.9–10: a result that is no failure has level `none`. */
function criterionResult(criterion: Criterion, index: ReadonlyMap<string, number>, input: FormInput): unknown {
  const ruleId = `gate/${criterion.id}`;
  const text = `${criterion.name}: found ${criterion.found}; needed ${criterion.needed}.${criterion.met ? '' : ` ${criterion.step}.`}`;
  return {
    ruleId,
    ruleIndex: index.get(ruleId),
    kind: criterion.met ? 'pass' : 'fail',
    level: criterion.met ? 'none' : 'error',
    message: { text: oneLine(text) },
    ...(input.fallback === undefined ? {} : { locations: [{ physicalLocation: physical(input.fallback, 1, input.folder) }] }),
  };
}

function findingResult(
  finding: GateFinding,
  cause: Cause | undefined,
  index: ReadonlyMap<string, number>,
  verdict: GateVerdict,
  input: FormInput,
): unknown {
  const { report, folder } = input;
  const hop = locationOf(finding, cause, input);
  const because = cause === undefined ? '' : ` Cause: ${causeTitle(cause)}; ${cause.why}`;
  return {
    ruleId: finding.check,
    ruleIndex: index.get(finding.check),
    kind: 'fail',
    level: finding.level,
    message: { text: oneLine(`${finding.message}${because}`) },
    locations: [
      {
        ...(hop === null ? {} : { physicalLocation: physical(hop.file, hop.line, folder) }),
        logicalLocations: [{ name: finding.selector, fullyQualifiedName: `${finding.view} ${finding.selector}`, kind: 'element' }],
      },
    ],
    partialFingerprints: { 'gloamFinding/v1': finding.id },
    baselineState: finding.status === 'new' ? 'new' : 'unchanged',
    ...(report === null
      ? {}
      : { hostedViewerUri: addressOf({ kind: 'finding', id: finding.id, label: '', at: finding }, verdict, report) }),
    properties: {
      page: finding.page,
      theme: finding.theme,
      state: finding.state,
      viewport: finding.viewport,
      rect: finding.rect,
      since: finding.since,
      ...(finding.owner === undefined ? {} : { owner: finding.owner }),
      ...(finding.cause === null ? {} : { cause: finding.cause }),
    },
  };
}

/**
 * The last file of the chain that lies among the sources; else the file a fault of token files names; else what stands in: readers of
 * these logs drop results without a place.
 */
function locationOf(
  { measured }: GateFinding,
  cause: Cause | undefined,
  { locate = (file) => file, fallback }: FormInput,
): { readonly file: string; readonly line: number | undefined } | null {
  const { file: named, line } = measured ?? {};
  const own = typeof named === 'string' ? [{ file: named, line: typeof line === 'number' ? line : undefined }] : [];
  const hops = [...(cause?.chain ?? [])]
    .reverse()
    .flatMap((link) => (link.file === undefined ? [] : [{ file: link.file, line: link.line }]));
  for (const hop of [...hops, ...own]) {
    const file = locate(hop.file);
    if (file !== null) return { file, line: hop.line };
  }
  return fallback === undefined ? null : { file: fallback, line: 1 };
}

/** Files in the configuration's folder are relative to the source root, so that the log fits any machine (section 3.14.14). */
function physical(file: string, line: number | undefined, folder: string): unknown {
  const plain = file.replaceAll('\\', '/');
  const root = `${folder.replaceAll('\\', '/').replace(/\/$/, '')}/`;
  const inside = plain.startsWith(root) ? plain.slice(root.length) : plain;
  const encoded = inside.split('/').map(encodeURIComponent).join('/');
  const isAddress = /^https?:/.test(inside);
  const isAbsolute = inside.startsWith('/') || /^[A-Za-z]:\//.test(inside);
  return {
    artifactLocation: isAddress
      ? { uri: encodeURI(inside) }
      : isAbsolute
        ? { uri: `file://${inside.startsWith('/') ? '' : '/'}${encoded.replace(/^([A-Za-z])%3A/, '$1:')}` }
        : { uri: encoded, uriBaseId: '%SRCROOT%' },
    ...(line === undefined ? {} : { region: { startLine: line } }),
  };
}
