import { type Lab, labToXyz } from '../analysis/colour/lab.ts';

/** A measured colour for the screen, in CSS: device-independent, so that a wide-gamut screen shows all of it. */
export const cssColour = (lab: Lab): string => {
  const [X, Y, Z] = labToXyz(lab);
  return `color(xyz-d65 ${X.toFixed(5)} ${Y.toFixed(5)} ${Z.toFixed(5)})`;
};

/** The neutral grey of one L*. */
export const cssGrey = (L: number): string => cssColour({ L, a: 0, b: 0 });
