// JSON values that know where they stand: file and offset of every node, duplicate members kept.

/** One text and what was read from it; every node leads back here. */
export interface Source {
  readonly file: string;
  readonly text: string;
  /** null when nothing could be read. */
  readonly root: JsonNode | null;
}

/** A stretch of a text; offsets in UTF-16 code units, `end` exclusive. */
export interface Stretch {
  readonly source: Source;
  readonly start: number;
  readonly end: number;
}

export interface JsonMember {
  readonly name: string;
  readonly nameStart: number;
  readonly value: JsonNode;
}

export interface JsonObject extends Stretch {
  readonly kind: 'object';
  /** In the order of the text; a repeated name stands here twice. */
  readonly members: readonly JsonMember[];
}

export interface JsonArray extends Stretch {
  readonly kind: 'array';
  readonly items: readonly JsonNode[];
}

export interface JsonString extends Stretch {
  readonly kind: 'string';
  readonly value: string;
}

export interface JsonNumber extends Stretch {
  readonly kind: 'number';
  readonly value: number;
}

export interface JsonBoolean extends Stretch {
  readonly kind: 'boolean';
  readonly value: boolean;
}

export interface JsonNull extends Stretch {
  readonly kind: 'null';
}

/** A place where a value should stand and none could be read; the fault is already reported. */
export interface JsonBroken extends Stretch {
  readonly kind: 'broken';
}

export type JsonNode = JsonObject | JsonArray | JsonString | JsonNumber | JsonBoolean | JsonNull | JsonBroken;

/** The member of that name; of repeated ones the last, as JSON readers do. */
export function memberOf(object: JsonObject, name: string): JsonNode | undefined {
  for (let i = object.members.length - 1; i >= 0; i -= 1) {
    const member = object.members[i];
    if (member?.name === name) return member.value;
  }
  return undefined;
}

/** What stands there, short enough for a message. */
export function quote(at: Stretch): string {
  // A little more than is shown, so that a value of many megabytes is not copied for its first words.
  const raw = at.source.text.slice(at.start, Math.min(at.end, at.start + 400)).replace(/\s+/g, ' ');
  return raw.length > 60 ? `${raw.slice(0, 57)}…` : raw;
}
