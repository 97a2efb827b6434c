// Why a theme changed nothing, in words: what puts it on, and what in the app would answer to it. Pure.
import type { ThemeAnswers } from '../../../runner/app/theme-answers.ts';
import { nearestName } from '../../config/nearest-name.ts';
import type { ThemeApply, ThemeAttribute } from '../../plan/configuration.ts';

/** @param answers null where the app could not be asked @returns one clause for each thing that puts the theme on */
export function whyNoEffect(
  { attributes = [], class: classes, media, storage, cookie, query, script }: ThemeApply,
  answers: ThemeAnswers | null,
): string {
  const clauses = [
    ...attributes.map((each) => attributeClause(each, answers)),
    ...(classes?.add ?? []).map((name) => nameClause(`class "${name}"`, name, answers && [...answers.classes], BY_RULES)),
    ...(classes?.remove ?? []).map((name) => `class "${name}" is taken off`),
    ...Object.entries(media ?? {}).map(([name, value]) => mediaClause(name, value, answers)),
    ...Object.keys(storage ?? {}).map((key) =>
      nameClause(`the stored entry "${key}"`, key, answers && answers.storage, BY_SCRIPTS),
    ),
    ...Object.keys(query ?? {}).map((name) => nameClause(`"${name}" in the query`, name, answers && answers.query, BY_SCRIPTS)),
    ...Object.entries(cookie ?? {}).map(([name, value]) => `the cookie ${name}=${value} changed nothing`),
    ...(script === undefined ? [] : ['its script changed no colour that is seen']),
  ];
  return clauses.length === 0 ? 'its apply puts nothing on' : clauses.join('; ');
}

interface Asking {
  readonly none: string;
  readonly some: string;
  readonly by: string;
}
const BY_RULES: Asking = {
  none: 'is named by no style rule that colours anything',
  some: 'is named by style rules, which change no colour that is seen',
  by: 'is',
};
const BY_SCRIPTS: Asking = {
  none: 'is looked up by no script',
  some: 'is looked up by scripts, which change no colour that is seen',
  by: 'is',
};

function nameClause(what: string, name: string, known: readonly string[] | null, { none, some, by }: Asking): string {
  if (known === null) return `${what} changed nothing`;
  if (known.includes(name)) return `${what} ${some}`;
  const near = nearestName(name, known) ?? (known.length > 0 && known.length <= 3 ? known.join('", "') : null);
  return `${what} ${none}${near === null ? '' : `; "${near}" ${by}`}`;
}

function attributeClause({ on, name, value }: ThemeAttribute, answers: ThemeAnswers | null): string {
  const what = `${name}="${value}" on ${on}`;
  if (answers === null) return `${what} changed nothing`;
  const values = answers.attributes.get(name);
  if (values === undefined) {
    const names = [...answers.attributes.keys()];
    const near = nearestName(name, names) ?? (names.length > 0 && names.length <= 3 ? names.join('", "') : null);
    return `${what}: "${name}" is named by no style rule that colours anything${near === null ? '' : `; "${near}" is`}`;
  }
  if (values.size > 0 && !values.has(value))
    return `${what}: style rules name "${name}" with ${[...values].map((one) => `"${one}"`).join(', ')} only`;
  return `${what}: "${name}" is named by style rules, which change no colour that is seen`;
}

/** As CSS calls them (Media Queries 5). */
const FEATURES: Readonly<Record<string, string>> = {
  colorScheme: 'prefers-color-scheme',
  contrast: 'prefers-contrast',
  forcedColors: 'forced-colors',
  reducedMotion: 'prefers-reduced-motion',
};

function mediaClause(member: string, value: string, answers: ThemeAnswers | null): string {
  const feature = FEATURES[member] ?? member;
  const what = `${feature}: ${value}`;
  if (answers === null) return `${what} changed nothing`;
  return answers.media.has(feature)
    ? `style rules ask for ${feature}, but none of those for ${what} changes a colour`
    : `no style rule asks for ${feature}`;
}
