import { convertLab65ToXyz65, convertXyz65ToLab65 } from 'culori/fn';

/** CIE tristimulus values; the white has Y = 1. */
export type Xyz = readonly [X: number, Y: number, Z: number];

/** CIELAB 1976: L* 0..100 for reflecting surfaces, a* towards red, b* towards yellow. */
export interface Lab {
  readonly L: number;
  readonly a: number;
  readonly b: number;
}

/**
 * Which CIELAB colour is this light, seen against the perfect white under D65?
 *
 * `xyz`: CIE XYZ, D65, 2° observer, Y = 1 for the perfect white (x 0.3127, y 0.3290). Any finite values: colours
 * outside every screen's range, and slightly negative ones left by noise, follow the formula's straight part.
 * Returns L* (100 = white), a*, b*. Definition: CIE 15 with its exact constants 216/24389 and 24389/27.
 * Source: CIE 15 / ISO 11664-4.
 * @example xyzToLab([0.17533535, 0.18447499, 0.20090392]) // { L: 50.0344, a: 0, b: 0 }
 */
export function xyzToLab(xyz: Xyz): Lab {
  const { l, a, b } = convertXyz65ToLab65({ x: xyz[0], y: xyz[1], z: xyz[2] });
  return { L: l, a, b };
}

/**
 * Which light is this CIELAB colour? The inverse of `xyzToLab`: XYZ for D65, 2°, white at Y = 1.
 * Source: CIE 15 / ISO 11664-4.
 * @example labToXyz({ L: 100, a: 0, b: 0 }) // [0.95046, 1, 1.08906]
 */
export function labToXyz(lab: Lab): Xyz {
  const { x, y, z } = convertLab65ToXyz65({ l: lab.L, a: lab.a, b: lab.b });
  return [x, y, z];
}
