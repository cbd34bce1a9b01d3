import { ksFromReflectance, reflectanceFromKs } from '../colour/kubelkaMunk.ts';
import { lightnessFromY, lightnessPerY, yFromLightness } from '../colour/lightness.ts';

/** K/S of the opaque cloth whose luminous reflectance looks as light as L* [Kubelka-Munk] [CIE15]. */
export function ksFromLightness(L: number): number {
  return ksFromReflectance(yFromLightness(L));
}

/** L* of the opaque cloth with this K/S, taken over the luminous reflectance as a whole. */
export function lightnessFromKs(ks: number): number {
  return lightnessFromY(reflectanceFromKs(ks));
}

/** d(L*)/d(K/S) at a K/S above 0: dR/d(K/S) = −R/√(K/S·(K/S + 2)), times d(L*)/dY. */
export function lightnessSlope(ks: number): number {
  const Y = reflectanceFromKs(ks);
  return (-Y * lightnessPerY(Y)) / Math.sqrt(ks * (ks + 2));
}
