import type { Along } from './stripProfile.ts';

/**
 * Where a place along a band lies when the band's ends are where they seem, but its lengths grow or shrink on the way:
 * corners that are a little off turn the sides towards each other, and so feign a tilt. The last step is longer than
 * the first by about twice `bend`, as a share.
 */
export function bentPlace(place: number, bend: number): number {
  return place - bend * place * (1 - place);
}

/** The band read at evenly spaced places, as it would read at bent ones; each takes the nearest sample there is. */
export function bentAlong(grid: Along, samplesPerBand: number, bend: number): Along {
  const { profile } = grid;
  const length = profile.paleness.length;
  const from = new Int32Array(length);
  for (let i = 0; i < length; i++) {
    const place = bentPlace(grid.start + (i + 0.5) / samplesPerBand, bend);
    from[i] = Math.min(length - 1, Math.max(0, Math.floor((place - grid.start) * samplesPerBand)));
  }
  const bent = (values: Float64Array): Float64Array => {
    const out = new Float64Array(length);
    for (let i = 0; i < length; i++) out[i] = values[from[i]];
    return out;
  };
  return {
    start: grid.start,
    flank: bent(grid.flank),
    uneven: bent(grid.uneven),
    profile: {
      ...profile,
      planes: profile.planes.map(bent),
      weights: bent(profile.weights),
      paleness: bent(profile.paleness),
      strange: bent(profile.strange),
      cloth: bent(profile.cloth),
    },
  };
}
