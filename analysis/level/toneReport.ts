import { lightnessFromY } from '../colour/lightness.ts';
import type { CardCheck } from './cardCheck.ts';
import type { Tone } from './levelled.ts';
import { fitToneCurve, type ToneCurve, type ToneSample } from './toneCurve.ts';

/** Recorded light at which the exponent is stated: that of a mid grey. */
const MID_LOG = Math.log(0.18);
/** A card that contradicts itself can make the curve flat or falling there; the exponent stays a number. */
const FLATTEST_SLOPE = 0.01;
/** Ratio of lightest to darkest usable patch below which they tell no more of the camera's tone than one. */
const LEAST_SPREAD = 1.5;

/**
 * Largest L* error with which the other patches predict one left out from between them; null below three patches.
 * The lightest and the darkest are not tried: without them the others would have to extrapolate.
 */
const leaveOneOut = (samples: readonly ToneSample[], flare: number): number | null => {
  if (samples.length < 3) return null;
  const byLight = [...samples].sort((a, b) => a.light[1] - b.light[1]);
  const errors = byLight.slice(1, -1).map((left) => {
    const tone = fitToneCurve(
      samples.filter((s) => s !== left),
      flare,
    );
    const log = tone.logsAt([{ log: left.recordedLog[1], channel: 1 }])[0];
    return Math.abs(lightnessFromY(Math.max(0, Math.exp(log) - flare)) - lightnessFromY(left.light[1]));
  });
  return Math.max(...errors);
};

/** What the card told of the camera, for people. @param samples of the usable patches, which stand lightest first. */
export const toneReport = (
  samples: readonly ToneSample[],
  tone: ToneCurve,
  { usable, refused }: CardCheck,
): Tone => {
  const step = 0.1;
  const [below, above] = tone.logsAt([
    { log: MID_LOG - step, channel: 1 },
    { log: MID_LOG + step, channel: 1 },
  ]);
  return {
    patchesUsed: samples.length,
    patchesRefused: refused,
    exponent: 1 / Math.max((above - below) / (2 * step), FLATTEST_SLOPE),
    flare: tone.flare,
    leaveOneOutL: leaveOneOut(samples, tone.flare),
    relative: usable[0].patch.Y < LEAST_SPREAD * usable[usable.length - 1].patch.Y,
  };
};
