// One change, one cause: what the comparison of pictures found, by layer, with its share of the changed pixels.
import { describe, expect, test } from 'vitest';
import { parseColor } from '../../src/colour/parse-color.ts';
import { changeGroup } from '../../src/pictures/change-group.ts';
import { driftFindings } from '../../src/pictures/drift-findings.ts';
import type { Change, Explanation } from '../../src/samples/difference.ts';
import type { Finding } from '../../src/samples/finding.ts';
import { driftCauses } from '../../src/triage/tell/drift-causes.ts';
import { indexTable } from '../../src/triage/tokens/table-index.ts';

const silt = {
  kind: 'literal',
  color: parseColor('#8b9aa1'),
  declared: { id: 'ramps.json', file: 'ramps.json', line: 12 },
} as const;
const quiet = { kind: 'alias', target: 'silt.400', declared: { id: 'dusk.json', file: 'dusk.json', line: 3 } } as const;

const index = indexTable({
  themes: [
    { name: 'noon', tone: 'light' },
    { name: 'dusk', tone: 'dark' },
  ],
  reference: 0,
  tokens: [
    { path: 'silt.400', properties: ['--silt-400'], definitions: [silt, silt] },
    { path: 'text.quiet', properties: ['--text-quiet'], definitions: [quiet, quiet] },
  ],
  ramps: [{ name: 'silt', steps: ['silt.400'] }],
});

/** A change that takes `pixels` of 100 changed ones, in a view of each page. */
function seen(change: Change, pixels: number, ...pages: readonly string[]): readonly (readonly [Finding, Explanation])[] {
  return pages.map((page) => {
    const explanation: Explanation = {
      ...{ change, group: changeGroup(change), selector: '#gauge', key: `gauge ${change.kind}` },
      ...{ rect: [0, 0, 10, 10], pixels, places: 1 },
    };
    const [draft] = driftFindings({ changedPixels: 100, totalPixels: 10_000, regions: [], explanations: [explanation] });
    if (draft === undefined) throw new Error('an explanation is a finding');
    const place = { view: `${page}@dusk`, page, theme: 'dusk', state: 'rest', viewport: 'desk' };
    return [{ ...draft, ...place, id: `${page} ${explanation.group}`, since: '', status: 'new', cause: null }, explanation];
  });
}

function causesOf(...told: readonly ReturnType<typeof seen>[]): ReturnType<typeof driftCauses> {
  const all = told.flat();
  return driftCauses(
    index,
    all.map(([finding]) => finding),
    new Map(all.map(([finding, explanation]) => [finding.id, explanation])),
  );
}

const recoloured = (token: string | null): Change => ({
  kind: 'recoloured',
  token,
  property: 'color',
  from: '#647278',
  to: '#8b9aa1',
});

describe('drift', () => {
  test('a step that changed is one cause in the ramp, on however many pages', () => {
    const [one, ...others] = causesOf(seen(recoloured('--silt-400'), 98, 'map', 'tides', 'berths'));
    expect(others).toEqual([]);
    expect(one?.findings).toEqual([0, 1, 2]);
    expect(one?.changes).toEqual([]);
    expect(one?.cause).toMatchObject({
      layer: 'ramp',
      step: 'silt.400',
      property: '--silt-400',
      findings: 3,
      pages: 3,
      themes: ['dusk'],
      confidence: 0.98,
      why: 'silt.400 went from #647278 to #8b9aa1 since the pictures were accepted, which explains 98 % of the changed pixels on 3 pages in dusk.',
    });
    expect(one?.cause.chain).toEqual([
      { property: '--silt-400', token: 'silt.400', value: '#8b9aa1', file: 'ramps.json', line: 12 },
    ]);
    expect(one?.cause.repair).toBeUndefined();
  });

  test('a token that points elsewhere lies in the definitions, a literal and another token in the page', () => {
    const rewired: Change = { kind: 'rewired', property: 'color', from: '--text-quiet', to: '#8b9aa1' };
    const found = causesOf(
      seen(recoloured('--text-quiet'), 60, 'map'),
      seen(recoloured(null), 20, 'map'),
      seen(rewired, 20, 'map'),
      seen(recoloured('--unlisted'), 20, 'map'),
    );
    expect(found.map(({ cause }) => [cause.layer, cause.token, cause.confidence])).toEqual([
      ['token', 'text.quiet', 0.6],
      ['usage', undefined, 0.2],
      ['usage', undefined, 0.2],
      ['token', undefined, 0.2],
    ]);
    expect(found.map(({ cause }) => cause.property)).toEqual(['--text-quiet', 'color', 'color', '--unlisted']);
    expect(found[3]?.cause.chain).toEqual([{ property: '--unlisted', value: '#8b9aa1' }]);
  });

  test('what changed in the content is no matter of the theme; what nothing explains is unknown', () => {
    const found = causesOf(
      seen({ kind: 'text', from: 'ebb', to: 'flood' }, 100, 'tides'),
      seen({ kind: 'moved', by: [0, 12], grew: [0, 0] }, 100, 'tides', 'map'),
      seen({ kind: 'unexplained' }, 40, 'berths'),
    );
    expect(found.map(({ cause }) => [cause.layer, cause.findings, cause.confidence])).toEqual([
      ['content', 1, 0.99],
      ['content', 2, 0.99],
      ['unknown', 1, 0],
    ]);
    expect(found[0]?.cause.why).toContain('Text “ebb” became “flood” since');
    expect(found[2]?.cause.why).toBe(
      'No change of colour, text, place or picture explains 40 % of the changed pixels on 1 page in dusk.',
    );
  });

  test('exempt findings, and those that nothing is told of, have no cause', () => {
    const [[finding, explanation] = []] = [seen(recoloured(null), 5, 'map')[0]];
    if (finding === undefined || explanation === undefined) throw new Error('one was made');
    expect(driftCauses(index, [finding], new Map())).toEqual([]);
    expect(driftCauses(index, [{ ...finding, status: 'exempt' }], new Map([[finding.id, explanation]]))).toEqual([]);
  });
});
