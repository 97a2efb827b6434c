// The values of the 13 token types (Format 2025.10, sections 8 and 9; Color 2025.10, section 4), fully resolved.

export const TOKEN_TYPES = [
  'color',
  'dimension',
  'fontFamily',
  'fontWeight',
  'duration',
  'cubicBezier',
  'number',
  'strokeStyle',
  'border',
  'transition',
  'shadow',
  'gradient',
  'typography',
] as const;

export type TokenType = (typeof TOKEN_TYPES)[number];

export type ColorSpace =
  | 'srgb'
  | 'srgb-linear'
  | 'display-p3'
  | 'a98-rgb'
  | 'prophoto-rgb'
  | 'rec2020'
  | 'xyz-d65'
  | 'xyz-d50'
  | 'hsl'
  | 'hwb'
  | 'lab'
  | 'lch'
  | 'oklab'
  | 'oklch';

/** A missing component is kept as `none`: it counts as 0 alone, and is taken from the other colour when interpolating. */
export type Component = number | 'none';

export interface ColorValue {
  readonly colorSpace: ColorSpace;
  readonly components: readonly [Component, Component, Component];
  /** 0–1. */
  readonly alpha: number;
  /** What a target without that space may show; never decides. */
  readonly hex: string | null;
}

export interface Dimension {
  readonly value: number;
  readonly unit: 'px' | 'rem';
}

export interface Duration {
  readonly value: number;
  readonly unit: 'ms' | 's';
}

export type CubicBezier = readonly [number, number, number, number];

export type StrokeStyle = string | { readonly dashArray: readonly Dimension[]; readonly lineCap: 'round' | 'butt' | 'square' };

export interface Border {
  readonly color: ColorValue;
  readonly width: Dimension;
  readonly style: StrokeStyle;
}

export interface Transition {
  readonly duration: Duration;
  readonly delay: Duration;
  readonly timingFunction: CubicBezier;
}

export interface Shadow {
  readonly color: ColorValue;
  readonly offsetX: Dimension;
  readonly offsetY: Dimension;
  readonly blur: Dimension;
  readonly spread: Dimension;
  readonly inset: boolean;
}

export interface GradientStop {
  readonly color: ColorValue;
  /** 0–1, clamped. */
  readonly position: number;
}

export interface Typography {
  readonly fontFamily: string | readonly string[];
  readonly fontSize: Dimension;
  readonly fontWeight: number | string;
  readonly letterSpacing: Dimension;
  readonly lineHeight: number;
}

export interface ValueOf {
  readonly color: ColorValue;
  readonly dimension: Dimension;
  readonly fontFamily: string | readonly string[];
  readonly fontWeight: number | string;
  readonly duration: Duration;
  readonly cubicBezier: CubicBezier;
  readonly number: number;
  readonly strokeStyle: StrokeStyle;
  readonly border: Border;
  readonly transition: Transition;
  readonly shadow: Shadow | readonly Shadow[];
  readonly gradient: readonly GradientStop[];
  readonly typography: Typography;
}

export type TypedValue = { readonly [T in TokenType]: { readonly type: T; readonly value: ValueOf[T] } }[TokenType];

export function isTokenType(text: string): text is TokenType {
  return TOKEN_TYPES.some((type) => type === text);
}
