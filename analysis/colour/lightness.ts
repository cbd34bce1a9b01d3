import { labToXyz, xyzToLab } from './lab.ts';

/**
 * How light does a surface of luminous reflectance `Y` (0..1, perfect white = 1) look? Returns L*, 0..100.
 * Any finite Y: below 216/24389 the straight part holds, also for slightly negative noise.
 * Source: CIE 15 / ISO 11664-4, exact constants.
 * @example lightnessFromY(0.18) // 49.4961
 */
export function lightnessFromY(Y: number): number {
  return xyzToLab([0, Y, 0]).L;
}

/**
 * Which luminous reflectance (0..1) has this L*? The inverse of `lightnessFromY`.
 * Source: CIE 15 / ISO 11664-4, exact constants.
 * @example yFromLightness(50) // 0.184187
 */
export function yFromLightness(L: number): number {
  return labToXyz({ L, a: 0, b: 0 })[1];
}
