// What may be set under `checks.drift`, in the shape of the parameters of the other checks.

export const DRIFT_PARAMETERS = {
  threshold: {
    default: 0.01,
    min: 0,
    max: 1,
    unit: 'share',
    about:
      'How far two colours may lie apart and still pass for equal, as a share of the metric’s greatest distance (YIQ; black and white are 97 % of it apart).',
    source:
      'Ours: lets a grey differ by 2 codes of 255 (.0076 of it; 3 codes are .0114), the rounding of compositing; a step of a ramp is larger. pixelmatch itself proposes 0.1.',
  },
  allowedShare: {
    default: 0,
    min: 0,
    max: 1,
    unit: 'share',
    about: 'Share of the pixels that may differ before a view counts as changed.',
    source: 'Ours: captures of an unchanged page are equal bit for bit, so nothing has to be allowed for.',
  },
} as const;
