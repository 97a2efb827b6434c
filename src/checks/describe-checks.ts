// The table of checks → docs/checks.md.
import type { Check, Guide, Parameter, Parameters } from './check.ts';
import { ALL_CHECKS } from './table.ts';

const HEAD = `# Checks

Ten checks look at what the runner collected and say what is wrong, in one sentence each, with the numbers measured and those expected. Levels: \`error\` (a published requirement is missed, or what you declared does not hold), \`warning\` (very likely wrong), \`note\` (worth a look). Each can be switched off or tuned in the configuration, e.g. \`"checks": { "glow": "off", "neon": { "leastArea": 3000 } }\`.

Written from the checks' own tables; do not edit by hand. "Ours" marks numbers that no publication gives: opinions with a reason, not requirements.
`;

type Described = Pick<Check, 'id' | 'title' | 'about' | 'guide' | 'parameters'>;

/** Made elsewhere: of pictures, and of token files. */
const DRIFT = {
  id: 'drift',
  title: 'Differences from the accepted pictures',
  about:
    'Pixels that differ from the picture you accepted, told as what changed: a text, a colour, a place that moved, something new or gone. Left alone: what `mask` names, pictures equal bit for bit, views without an accepted picture.',
  guide: {
    why: 'What nobody meant to change should not change; what was meant to is accepted once and then silent.',
    computed:
      'Hashes first; where they differ, both pictures are aligned row by row, compared pixel by pixel, and the regions that differ are explained by the samples of both nights; what no sample explains stays a region.',
    source: 'Distance of two pixels: YIQ, as the comparing library measures it. The rest is ours.',
    mend: 'Accept what was meant (`gloam accept --page NAME`), mend what was not; name what always differs (a clock, a chart of live values) under `mask`.',
  },
} as const;

const TOKEN_FAULT = {
  id: 'token-fault',
  title: 'Faults in the token files themselves',
  about:
    'What does not conform to the token format, and ramps and definitions that look wrong without any page: a step out of order, off its ramp’s course or hardly different from its neighbour, an alias out of line with its siblings, a token without a value of its own where its siblings have one, a token nothing uses. Left alone: tokens that are no colours, whatever `ramps` leaves out where it is set.',
  guide: {
    why: 'A wrong step is cheaper to see in its ramp than in four thousand places that use it.',
    computed:
      'Files are read by the Format, Color and Resolver modules. In every theme, each ramp is looked at by the lightness, chroma and hue of its steps, and each definition is held against those of its siblings.',
    source: 'Design Tokens Format, Color and Resolver Modules 2025.10. What makes a ramp look wrong is ours.',
    mend: '`gloam tokens` names file, line and what was expected; it needs no browser and runs in seconds.',
  },
  parameters: {},
} as const;

/** @param drift options of comparing pictures, which this part may not look up itself */
export function describeChecks(drift: Parameters): string {
  const all: readonly Described[] = [...ALL_CHECKS, { ...DRIFT, parameters: drift }, TOKEN_FAULT];
  return [HEAD, ...all.map(describe)].join('\n');
}

function describe(check: Described): string {
  const rows = Object.entries(check.parameters).map(([name, parameter]) => `| ${parameterRow(name, parameter).join(' | ')} |`);
  const table = ['| option | default | allowed | decides | source |', '| --- | --- | --- | --- | --- |', ...rows].join('\n');
  return `## \`${check.id}\`: ${check.title}\n\n${check.about}\n\n${told(check.guide)}\n\n${rows.length === 0 ? 'No options.' : table}\n`;
}

function told({ why, computed, source, mend }: Guide): string {
  return [`- **Why**: ${why}`, `- **How**: ${computed}`, `- **Source**: ${source}`, `- **To mend it**: ${mend}`].join('\n');
}

function parameterRow(name: string, parameter: Parameter): readonly string[] {
  if ('choices' in parameter) {
    return [`\`${name}\``, `\`${parameter.default}\``, parameter.choices.join(', '), parameter.about, parameter.source];
  }
  const { min, max, unit } = parameter;
  return [
    `\`${name}\``,
    `${String(parameter.default)} ${unit}`,
    `${String(min)}–${String(max)}`,
    parameter.about,
    parameter.source,
  ];
}
