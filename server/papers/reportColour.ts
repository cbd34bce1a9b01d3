import { type Color, rgb } from 'pdf-lib';
import { type Lab, labToXyz } from '../../analysis/colour/lab.ts';
import { applyMatrix3, inverseMatrix3 } from '../../analysis/colour/matrix3.ts';
import { srgbEncoded, srgbToXyz65 } from '../../analysis/photo/srgb.ts';

const toSrgb = inverseMatrix3(srgbToXyz65);
const shown = (linear: number): number => srgbEncoded(Math.min(1, Math.max(0, linear)));

/** A measured colour for a printer or screen, as near as sRGB comes to it. */
export const paperColour = (lab: Lab): Color => {
  const [r, g, b] = applyMatrix3(toSrgb, labToXyz(lab));
  return rgb(shown(r), shown(g), shown(b));
};
