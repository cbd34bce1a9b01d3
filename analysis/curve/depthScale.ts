import { ksFromReflectance, reflectanceFromKs } from '../colour/kubelkaMunk.ts';
import { lightnessFromY, yFromLightness } from '../colour/lightness.ts';

/** K/S of the opaque cloth whose luminous reflectance looks as light as L* [Kubelka-Munk] [CIE15]. */
export function ksFromLightness(L: number): number {
  return ksFromReflectance(yFromLightness(L));
}

/** L* of the opaque cloth with this K/S, taken over the luminous reflectance as a whole. */
export function lightnessFromKs(ks: number): number {
  return lightnessFromY(reflectanceFromKs(ks));
}

/** d(L*)/d(K/S), by central differences of a hundred-thousandth. */
export function lightnessSlope(ks: number): number {
  const h = 1e-5 * ks;
  return (lightnessFromKs(ks + h) - lightnessFromKs(ks - h)) / (2 * h);
}
