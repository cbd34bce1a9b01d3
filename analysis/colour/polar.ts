import type { Lab } from './lab.ts';

/** How colourful: C*ab, the distance from the neutral axis. Source: [CIE15]. */
export const chromaOf = ({ a, b }: Pick<Lab, 'a' | 'b'>): number => Math.hypot(a, b);

/** Which hue: h_ab in degrees, 0 to 360, red at 0 and yellow at 90. Source: [CIE15]. */
export const hueOf = ({ a, b }: Pick<Lab, 'a' | 'b'>): number =>
  ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360;
