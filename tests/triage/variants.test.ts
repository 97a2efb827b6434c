import { expect, test } from 'vitest';
import type { WrittenPlace } from '../../src/samples/paint.ts';
import type { Sample } from '../../src/samples/sample.ts';
import { openTriage } from '../../src/triage/open-triage.ts';
import { healthyApp } from './healthy-app.ts';
import { ALL_ACTIVE, paintApp } from './paint-app.ts';
import { seeded } from './seeded.ts';

// Derived: three texts get colours that cannot be read on anything light or dark; each is set by a rule of its own through one property.

const COLORS = ['#8f9aa2', '#9aa38f', '#a28f9a'] as const;

function written(color: string): readonly WrittenPlace[] {
  const at = COLORS.findIndex((each) => each === color);
  return [
    { property: 'color', value: 'var(--tag-ink)', rule: '.tag', file: '/tags.css', line: 3 },
    { property: '--tag-ink', value: color, rule: `.tag-${String(at + 1)}`, file: '/tags.css', line: 10 + at },
  ];
}

test('colours that rules set for one rule of the style sheet are one cause, which lists each with its own rule', () => {
  const app = healthyApp(seeded(4));
  const texts = app.places
    .filter(
      (place) => place.kind === 'text' && place.on.every((on) => on.kind === 'token' && /^face\.(?:page|raised)$/u.test(on.path)),
    )
    .slice(0, COLORS.length);
  const colorOf = new Map(texts.map(({ selector }, at) => [selector, COLORS[at] ?? '']));
  const places = app.places.map((place) => {
    const color = place.kind === 'text' ? colorOf.get(place.selector) : undefined;
    return color === undefined || place.kind !== 'text' ? place : { ...place, ink: { kind: 'literal' as const, color } };
  });
  const painted = paintApp({ ...app, places });
  const findings = painted.findings.filter(({ check }) => check === 'text-contrast');
  const triage = openTriage({ table: app.table, findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of painted.views) triage.add(view, samples.map(throughProperty));
  const [cause, ...others] = triage.close().causes.map((each) => each.cause);
  expect(others.map(({ why }) => why)).toEqual([]);
  expect(cause?.findings).toBe(findings.length);
  const repair = cause?.repair;
  const parts = repair === undefined ? [] : [repair, ...(repair.also ?? [])];
  expect(parts.map(({ of, from }) => [of, from]).toSorted()).toEqual(COLORS.map((color, at) => [`.tag-${String(at + 1)}`, color]));
  expect(cause?.why).toMatch(/^\.tag .*one for each variant: #\w+ in \.tag-\d/u);

  function throughProperty(sample: Sample): Sample {
    const color = sample.kind === 'text' ? colorOf.get(sample.selector) : undefined;
    if (sample.kind !== 'text' || color === undefined) return sample;
    const origin = { kind: 'token', property: '--tag-ink', alpha: 1 } as const;
    return { ...sample, ink: { ...sample.ink, origin, written: written(color) } };
  }
});

test('a colour that a rule builds from numbers in custom properties is not said to be written out', () => {
  const app = healthyApp(seeded(4));
  const text = app.places.find(
    (place) => place.kind === 'text' && place.on.every((on) => on.kind === 'token' && on.path === 'face.page'),
  );
  const ink = { kind: 'literal' as const, color: '#8f9aa2' };
  const places = app.places.map((place) => (place === text && place.kind === 'text' ? { ...place, ink } : place));
  const painted = paintApp({ ...app, places });
  const findings = painted.findings.filter(({ check }) => check === 'text-contrast');
  const built: readonly WrittenPlace[] = [
    { property: 'color', value: 'hsl(var(--hue) var(--strength) 60%)', rule: '.tag', file: '/tags.css', line: 3 },
    { property: '--hue', value: '205', rule: ':root', file: '/tags.css', line: 1 },
    { property: '--strength', value: '9%', rule: ':root', file: '/tags.css', line: 1 },
  ];
  const triage = openTriage({ table: app.table, findings, checks: ALL_ACTIVE, served: painted.served });
  for (const { view, samples } of painted.views) {
    const withRule = (sample: Sample): Sample =>
      sample.kind === 'text' && sample.selector === text?.selector ? { ...sample, ink: { ...sample.ink, written: built } } : sample;
    triage.add(view, samples.map(withRule));
  }
  const [first] = triage.close().causes;
  expect(first?.cause.why).toMatch(/^\.tag builds #8f9aa2 from --hue and --strength for its text/u);
  expect(first?.cause.chain.map(({ property, line }) => [property, line])).toEqual([
    ['color', 3],
    ['--hue', 1],
    ['--strength', 1],
  ]);
});
