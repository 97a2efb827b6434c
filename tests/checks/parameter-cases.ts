// One case for each parameter of each check: a scene in which only that parameter decides, as a function of the quantity it bounds.
import type { GivenOptions } from '../../src/checks/check.ts';
import type { FindingDraft } from '../../src/samples/finding.ts';
import type { Sample } from '../../src/samples/sample.ts';
import type { Tone } from '../../src/samples/view.ts';
import { graphic, picture, shadow, surface, textRun } from './made-samples.ts';

export interface Scene {
  readonly samples: readonly Sample[];
  /** Null: judged without a reference theme. */
  readonly reference: readonly Sample[] | null;
  readonly tone?: Tone;
}

interface Bounded {
  /** The scene with the bounded quantity at this value. */
  readonly scene: (quantity: number) => Scene;
  /** Where a fault is seen; from and up to take in the parameter's value itself, above and below leave it out. */
  readonly seen: 'from' | 'above' | 'upto' | 'below';
  /** The quantity is measured by the check and comes out a little off: nothing is said of the value itself. */
  readonly measured?: true;
  /** How far from the parameter's value the verdict must already hold, either side. */
  readonly step: number;
  /** A second value of the parameter around which the same must hold. */
  readonly other: number;
  /** Other parameters, so that only this one decides. */
  readonly options?: GivenOptions;
  readonly sees?: (found: readonly FindingDraft[]) => boolean;
}

/** The quantity follows from colours and cannot be set: the parameter moves past it instead. */
interface Fixed {
  readonly scene: () => Scene;
  /** Values of the parameter, near each other, at which the fault is seen and not seen. */
  readonly values: readonly [seen: number | string, silent: number | string];
  readonly options?: GivenOptions;
}

export type ParameterCase = Bounded | Fixed;

type SurfaceFacts = Parameters<typeof surface>[0];
const pair = (here: SurfaceFacts, there: SurfaceFacts | null): Scene => ({
  samples: [surface(here)],
  reference: there === null ? [] : [surface(there)],
});

/** 240 × 90 px² of a strong pink on a mid-dark panel: rise 53 (31 and 15 less in the reference), M 83, J + M/2 97. */
const card = (facts: Partial<SurfaceFacts> = {}, color = '#ff3d7f'): Scene =>
  pair({ color, around: '#3a3f47', rect: [0, 0, 240, 90], ...facts }, { color, around: '#f2f4f7' });
/** Green on near-black: far beyond every bound. */
const bar = (facts: Partial<SurfaceFacts>): Scene => card({ around: '#121212', ...facts }, '#39ff14');

const fall = (facts: Partial<Parameters<typeof shadow>[0]>): Scene => ({
  samples: [shadow({ color: '#2a2a2a', beneath: '#121212', ...facts })],
  reference: [],
});

const dark = { color: '#1e1e1e', around: '#ffffff', lightness: 11, aroundLightness: 100, area: 0.2, tone: 'dark' } as const;
const light = { color: '#f0f0f0', around: '#121212', lightness: 95, aroundLightness: 5, area: 0.2, tone: 'light' } as const;

/** Step `there` in the light reference theme, `here` in the dark one. */
const steps = (there: number, here: number, facts: Partial<SurfaceFacts> = {}): Scene =>
  pair(
    { color: '#1e1e1e', around: '#1d1d1d', lightness: 10 + here, aroundLightness: 10, tone: 'dark', area: 0.2, ...facts },
    { color: '#ffffff', around: '#f5f7f9', lightness: 100, aroundLightness: 100 - there, tone: 'light', area: 0.2 },
  );
/** Kept white through a literal: `lightness` here and there, on grounds of the two themes. */
const kept = (facts: Partial<SurfaceFacts>, there: Partial<SurfaceFacts> = {}): Scene =>
  pair(
    { color: '#ffffff', around: '#121212', lightness: 100, aroundLightness: 5, ...facts },
    { color: '#ffffff', around: '#f5f7f9', lightness: 100, aroundLightness: 97, ...there },
  );
const byToken = {
  property: 'background-color',
  color: '#ffffff',
  origin: { kind: 'token', property: '--paper', alpha: 1 },
} as const;

/** As many inks through a token as asked became light; one literal of the same blue stayed. */
const peers = (count: number): Scene => {
  const key = (i: number): string => `peer-${String(i)}`;
  const ink = { property: 'color', color: '#0b5d6b', origin: { kind: 'token', property: '--brand', alpha: 1 } } as const;
  const rest = { color: '#0b5d6b', background: '#ffffff', key: 'left' } as const;
  const all = Array.from({ length: Math.max(0, Math.round(count)) }, (_, i) => i);
  return {
    samples: [textRun(rest), ...all.map((i) => textRun({ color: '#8fd3df', background: '#ffffff', key: key(i), ink }))],
    reference: [textRun(rest), ...all.map((i) => textRun({ color: '#0b5d6b', background: '#ffffff', key: key(i), ink }))],
  };
};

/** Luminances over fields whose correlation with `WAVE` is as asked. */
const WAVE = Array.from({ length: 64 }, (_, i) => (i % 2 === 0 ? 0.8 : 0.2));
const ACROSS = Array.from({ length: 64 }, (_, i) => (i % 4 < 2 ? 0.8 : 0.2));
const correlated = (r: number): readonly number[] =>
  WAVE.map((v, i) => 0.5 + r * (v - 0.5) + Math.sqrt(1 - r * r) * ((ACROSS[i] ?? 0.5) - 0.5));

export const PARAMETER_CASES: Readonly<Record<string, ParameterCase>> = {
  'text-contrast.level': {
    // 4.54 on white
    scene: () => ({
      samples: [textRun({ color: '#767676', background: '#ffffff' })],
      reference: [],
    }),
    values: ['AAA', 'AA'],
  },
  'graphic-contrast.focusAppearance': {
    scene: () => ({
      samples: [graphic({ role: 'focus', color: '#ffffff', against: '#121212', change: { perimeterShare: 0.5 } })],
      reference: [],
    }),
    values: ['on', 'off'],
  },
  'neon.groundLightness': { scene: (l) => bar({ aroundLightness: l }), seen: 'upto', step: 0.1, other: 20 },
  'neon.leastArea': { scene: (px2) => bar({ rect: [0, 0, px2 / 30, 30] }), seen: 'from', step: 1, other: 3000 },
  'neon.leastSide': { scene: (px) => bar({ rect: [0, 0, 800, px] }), seen: 'from', step: 0.1, other: 30 },
  'neon.leastSum': { scene: (share) => bar({ rect: [0, 0, 40, 30], area: share }), seen: 'from', step: 1e-4, other: 0.02 },
  'neon.leastAround': { scene: (share) => bar({ aroundShare: share }), seen: 'from', step: 0.01, other: 0.7 },
  'neon.leastColourfulness': { scene: () => card(), values: [82, 84] },
  'neon.leastGlare': { scene: () => card({ rect: [0, 0, 100, 100] }), values: [96.5, 97.5] },
  // a tenth of the usual area: 97 on this ground is silent as soon as being small asks for more than 95 + 2
  'neon.sizeEffect': {
    scene: () => card({ rect: [0, 0, 50, 20] }),
    values: [1.5, 2.5],
    options: { leastGlare: 95, leastArea: 500 },
  },
  'neon.leastRise': { scene: () => card(), values: [53, 54] },
  'neon.leastGrowth': { scene: () => card(), values: [38, 39] },

  'glow.leastGain': { scene: (gain) => fall({ lightnessGain: gain, chromaGain: 0 }), seen: 'from', step: 0.01, other: 4 },
  'glow.strongGain': {
    scene: (gain) => fall({ lightnessGain: gain, chromaGain: 0 }),
    seen: 'from',
    step: 0.01,
    other: 8,
    sees: (found) => found.some(({ level }) => level === 'warning'),
  },
  'glow.leastBlur': { scene: (px) => fall({ blur: px, spread: 8 }), seen: 'from', step: 0.1, other: 10 },
  'glow.leastReach': { scene: (px) => fall({ blur: 3, spread: 0, offset: [0, px - 3] }), seen: 'from', step: 0.1, other: 12 },
  'glow.leastChromaGain': {
    scene: (chroma) => fall({ lightnessGain: 1, chromaGain: chroma }),
    seen: 'from',
    step: 0.001,
    other: 0.1,
  },

  'flipped.mostDrift': {
    scene: (drift) => pair({ ...dark, stay: 'dark', lightness: 10 + drift }, { ...dark, stay: 'dark', lightness: 10 }),
    seen: 'above',
    step: 0.1,
    other: 30,
  },
  'flipped.leastDifference': {
    scene: (difference) => pair({ ...light, aroundLightness: 20, lightness: 20 + difference }, dark),
    seen: 'from',
    step: 0.1,
    other: 60,
  },
  'flipped.leastArea': { scene: (share) => pair({ ...light, area: share }, dark), seen: 'from', step: 1e-4, other: 0.05 },
  'flipped.mostChroma': { scene: (chroma) => pair({ ...light, chroma }, dark), seen: 'upto', step: 0.001, other: 0.2 },

  'unthemed.leastChange': {
    scene: (change) => kept({ aroundLightness: 97 - change }, {}),
    seen: 'from',
    step: 0.1,
    other: 60,
  },
  'unthemed.leastStandOut': {
    scene: (more) => kept({ aroundLightness: 60, lightness: 63 + more }, {}),
    seen: 'from',
    step: 0.1,
    other: 30,
  },
  'unthemed.mostChroma': { scene: (chroma) => kept({ chroma }), seen: 'upto', step: 0.001, other: 0.15 },
  'unthemed.leastTokenArea': { scene: (area) => kept({ area, paint: byToken }), seen: 'from', step: 1e-4, other: 0.05 },
  'unthemed.leastPeers': { scene: peers, seen: 'from', step: 1, other: 5 },

  'separation.harshStep': { scene: (step) => steps(2, step), seen: 'from', step: 0.1, other: 30 },
  'separation.harshFactor': { scene: (factor) => steps(10, 10 * factor + 4), seen: 'from', step: 0.01, other: 3 },
  'separation.harshOffset': { scene: (offset) => steps(10, 17.5 + offset), seen: 'from', step: 0.1, other: 12 },
  'separation.harshAlone': {
    scene: (step) => ({ samples: steps(0, step).samples, reference: [] }),
    seen: 'from',
    step: 0.1,
    other: 50,
  },
  'separation.mostSwapped': { scene: (there) => steps(there, 85), seen: 'upto', step: 0.1, other: 20, options: { harshFactor: 1 } },
  'separation.leastReferenceStep': { scene: (there) => steps(there, 0), seen: 'from', step: 0.1, other: 8 },
  'separation.mergedShare': { scene: (share) => steps(5, 5 * share), seen: 'below', step: 0.01, other: 0.5 },
  'separation.mergedFloor': { scene: (here) => steps(2.5, here), seen: 'below', step: 0.01, other: 2.5 },
  'separation.mergedCeiling': { scene: (here) => steps(30, here), seen: 'below', step: 0.01, other: 6 },
  'separation.leastAround': { scene: (share) => steps(4, 0, { aroundShare: share }), seen: 'from', step: 0.01, other: 0.9 },
  'separation.leastArea': { scene: (share) => steps(4, 0, { area: share }), seen: 'from', step: 1e-4, other: 0.01 },
  'separation.leastEdge': {
    scene: () => steps(4, 0, { color: '#121212', around: '#121212', edge: { kind: 'border', color: '#1c1c1c' } }),
    values: [4.9, 4.7],
  },

  'inverted-picture.leastTurn': {
    scene: (degrees) => ({
      samples: [picture({ filters: [{ selector: 'html', filter: `hue-rotate(${String(degrees)}deg)`, origin: 'author' }] })],
      reference: [],
    }),
    seen: 'from',
    step: 1, // half a degree off
    measured: true,
    other: 60,
  },
  'inverted-picture.mostCorrelation': {
    scene: (r) => ({ samples: [picture({ luma: correlated(r) })], reference: [picture({ luma: WAVE })] }),
    seen: 'upto',
    step: 0.01,
    other: -0.8,
  },
  'inverted-picture.lineArt': {
    scene: (detail) => ({
      samples: [picture({ detail, filters: [{ selector: '#gauge', filter: 'invert(1)', origin: 'author' }] })],
      reference: [],
    }),
    seen: 'from',
    step: 0.01,
    other: 0.6,
  },
};
