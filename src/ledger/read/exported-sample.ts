// A sample and its verdict → the members that scripts rely on; what else a sample knows stays inside.
import type { SampleVerdict } from '../../samples/sample-verdict.ts';
import type { GraphicSample, Sample, ShadowSample, SurfaceSample, TextSample } from '../../samples/sample.ts';

export type VerdictOn = (sample: TextSample | GraphicSample) => SampleVerdict;

/** Undefined for kinds that are not exported. */
export function exportedSample(sample: Sample, verdictOn: VerdictOn): object | undefined {
  switch (sample.kind) {
    case 'text':
      return text(sample, verdictOn(sample));
    case 'surface':
      return surface(sample);
    case 'shadow':
      return shadow(sample);
    case 'graphic':
      return graphic(sample, verdictOn(sample));
    case 'picture':
      return undefined;
  }
}

const place = ({ kind, view, selector, rect }: Sample): object => ({ kind, view, selector, rect });

function text(sample: TextSample, { required, exempt, verdict, why }: SampleVerdict): object {
  const { color, background, backgroundSpread, contrast, fontSize, fontWeight, large, basis } = sample;
  return {
    ...place(sample),
    text: sample.text,
    ...{ color, background, backgroundSpread, contrast: { min: contrast.min, max: contrast.max } },
    ...{ fontSize, fontWeight, large, required, exempt: promised(exempt), verdict },
    ...(why === undefined ? {} : { why }),
    basis,
  };
}

/** The exports have no word for what lies beneath a modal layer; nobody can act on it there. */
function promised(exempt: SampleVerdict['exempt']): Exclude<SampleVerdict['exempt'], 'behind'> {
  return exempt === 'behind' ? 'inactive' : exempt;
}

function surface(sample: SurfaceSample): object {
  const { color, around, lightness, aroundLightness, chroma, area, tone } = sample;
  return { ...place(sample), color, around, lightness, aroundLightness, chroma, area, tone };
}

function shadow(sample: ShadowSample): object {
  const { property, color, beneath, lightnessGain, blur, spread } = sample;
  return { ...place(sample), property, color, beneath, lightnessGain, blur, spread };
}

function graphic(sample: GraphicSample, { required, verdict }: SampleVerdict): object {
  const { role, color, against, contrast } = sample;
  return { ...place(sample), role, color, against, contrast, required, verdict };
}
