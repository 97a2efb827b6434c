// The table of checks → docs/checks.md.
import type { Check, Parameter } from './check.ts';
import { ALL_CHECKS } from './table.ts';

const HEAD = `# Checks

Each can be switched off or tuned in the configuration, e.g. \`"checks": { "glow": "off", "neon": { "leastArea": 3000 } }\`.
Written from the checks' own tables; do not edit by hand. "Ours" marks numbers that no publication gives: opinions with a reason, not requirements.
`;

export function describeChecks(): string {
  return [HEAD, ...ALL_CHECKS.map(describe)].join('\n');
}

function describe(check: Check): string {
  const rows = Object.entries(check.parameters).map(([name, parameter]) => `| ${rowOf(name, parameter).join(' | ')} |`);
  const table = ['| option | default | allowed | decides | source |', '| --- | --- | --- | --- | --- |', ...rows].join('\n');
  return `## \`${check.id}\`: ${check.title}\n\n${check.about}\n\n${rows.length === 0 ? 'No options.' : table}\n`;
}

function rowOf(name: string, parameter: Parameter): readonly string[] {
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
