// All forms a verdict can be written in.
import { json } from './json.ts';
import { junit } from './junit.ts';
import { launchSheet } from './launch-sheet.ts';
import { markdown } from './markdown.ts';
import { sarif } from './sarif.ts';
import { text } from './text.ts';
import type { Form } from './form.ts';

export const FORM_IDS = ['text', 'markdown', 'json', 'junit', 'sarif', 'sheet'] as const;
export type FormId = (typeof FORM_IDS)[number];

export const FORMS = { text, markdown, json, junit, sarif, sheet: launchSheet } satisfies Record<FormId, Form>;
