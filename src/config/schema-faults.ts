// zod's issues → faults of a file: where, what was found, what was expected, with the nearest known name for mistyped members.
import { z } from 'zod';
import type { FileFault } from '../errors/command-errors.ts';
import { expectedName } from './nearest-name.ts';

type Issue = z.core.$ZodIssue;
type Path = readonly PropertyKey[];

/** @returns one fault for each thing that is wrong, in the order of the file's schema */
export function schemaFaults(schema: z.core.$ZodType, input: unknown, issues: readonly Issue[]): readonly FileFault[] {
  return issues.flatMap((issue) => faultsOf(schema, input, issue, []));
}

function faultsOf(schema: z.core.$ZodType, input: unknown, issue: Issue, above: Path): readonly FileFault[] {
  const path = [...above, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    const known = membersAt(schema, path);
    return issue.keys.map((key) => ({
      at: show([...path, key]),
      found: 'a member nobody reads',
      expected: expectedName(key, known),
    }));
  }
  if (issue.code === 'invalid_union') {
    // The branch the author meant is the one whose faults lie deeper than "another kind of value".
    const meant = issue.errors.find((branch) =>
      branch.some((inner) => inner.path.length > 0 || inner.code === 'unrecognized_keys'),
    );
    if (meant !== undefined) return meant.flatMap((inner) => faultsOf(schema, input, inner, path));
    const kinds = issue.errors.flatMap((branch) => branch.map((inner) => expectation(inner)));
    return [{ at: show(path), found: showValue(valueAt(input, path)), expected: [...new Set(kinds)].join(', or ') }];
  }
  if (issue.code === 'invalid_key') {
    return [
      { at: show(path), found: 'a member nobody reads', expected: issue.issues.map((inner) => expectation(inner)).join('; ') },
    ];
  }
  return [{ at: show(path), found: showValue(valueAt(input, path)), expected: expectation(issue) }];
}

function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'invalid_type':
      return EXPECTED_TYPES[issue.expected] ?? `a value of type ${issue.expected}`;
    case 'invalid_value':
      return issue.values.length === 1 ? JSON.stringify(issue.values[0]) : `one of ${issue.values.map(String).join(', ')}`;
    case 'too_small':
      if (issue.origin === 'string') return 'text that is not empty';
      if (issue.origin === 'array') return `a list of at least ${String(issue.minimum)}`;
      return `a number from ${String(issue.minimum)} up`;
    case 'too_big':
      return `a number up to ${String(issue.maximum)}`;
    case 'invalid_format':
      return EXPECTED_FORMATS[issue.format] ?? (issue.format === 'regex' ? issue.message : `text in the form of ${issue.format}`);
    case 'not_multiple_of':
      return `a multiple of ${String(issue.divisor)}`;
    default:
      return issue.message;
  }
}

const EXPECTED_TYPES: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
  record: 'an object of named entries',
};

const EXPECTED_FORMATS: Readonly<Record<string, string>> = {
  date: 'a date that exists, as YYYY-MM-DD',
  datetime: 'an instant, as 2031-05-04T08:56:00Z',
  url: 'an address that starts with http:// or https://',
};

/** Names of the members that an object at `path` may have, over all branches of unions. */
function membersAt(schema: z.core.$ZodType, path: Path): readonly string[] {
  let here: readonly z.core.$ZodType[] = bare(schema);
  for (const step of path) {
    here = here.flatMap((type) => {
      if (type instanceof z.ZodObject) {
        const inner = (type.shape as Record<string, z.core.$ZodType | undefined>)[String(step)];
        return inner === undefined ? [] : bare(inner);
      }
      if (type instanceof z.ZodArray) return bare(type.element);
      if (type instanceof z.ZodRecord) return bare(type.valueType);
      return [];
    });
  }
  return here.flatMap((type) => {
    if (type instanceof z.ZodObject) return Object.keys(type.shape);
    if (type instanceof z.ZodRecord && type.keyType instanceof z.ZodEnum) return type.keyType.options.map(String);
    return [];
  });
}

/** The types inside optional, default, preprocess and union wrappers. */
function bare(type: z.core.$ZodType): readonly z.core.$ZodType[] {
  if (type instanceof z.ZodOptional || type instanceof z.ZodDefault || type instanceof z.ZodPrefault)
    return bare(type.def.innerType);
  if (type instanceof z.ZodPipe) return bare(type.def.out);
  if (type instanceof z.ZodUnion) return type.def.options.flatMap((option) => bare(option));
  return [type];
}

function valueAt(input: unknown, path: Path): unknown {
  let here = input;
  for (const step of path) {
    // A page written as text stands for its path.
    if (typeof here !== 'object' || here === null) return typeof here === 'string' ? here : undefined;
    // A list written where its members are meant to be named (`[1280, 800]`): show the list.
    if (Array.isArray(here) && typeof step === 'string') return here;
    here = (here as Readonly<Record<PropertyKey, unknown>>)[step];
  }
  return here;
}

/** `themes.dusk.tone`, `pages[3].path`. */
export function show(path: Path): string {
  return path
    .map((step, i) => {
      if (typeof step === 'number') return `[${String(step)}]`;
      const name = String(step);
      const plain = /^[\p{L}_][\p{L}\p{N}_-]*$/u.test(name);
      if (!plain) return `[${JSON.stringify(name)}]`;
      return i === 0 ? name : `.${name}`;
    })
    .join('');
}

export function showValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'function') return 'a function';
  const text = JSON.stringify(value);
  return text.length > 80 ? `${text.slice(0, 80)}…` : text;
}
