import { convertXyz50ToLab } from 'culori/fn';
import { bradford } from './adaptation.ts';
import { type Lab, labToXyz, type Xyz } from './lab.ts';
import { applyMatrix3 } from './matrix3.ts';
import { whiteD50, whiteD65 } from './white.ts';

const toD50 = bradford(whiteD65, whiteD50);

/**
 * What are the numbers of this D65 colour for those who work in D50, as printing does? Linear Bradford
 * adaptation, then CIELAB against D50 (x 0.3457, y 0.3585), 2°. Neutrals stay neutral.
 * Source: CIE 15; CSS Color 4 for the pair of whites.
 * @example labToLabD50({ L: 53.2408, a: 80.0925, b: 67.2032 }) // { L: 54.29, a: 80.81, b: 69.89 }
 */
export function labToLabD50(lab: Lab): Lab {
  const [x, y, z] = labToXyzD50(lab);
  const { l, a, b } = convertXyz50ToLab({ x, y, z });
  return { L: l, a, b };
}

/** The XYZ behind `labToLabD50`: linear Bradford from D65 to D50, 2°, the perfect white at Y = 1. */
export function labToXyzD50(lab: Lab): Xyz {
  return applyMatrix3(toD50, labToXyz(lab));
}
