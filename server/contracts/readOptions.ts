import { z } from 'zod';

/** From when on a step counts as washed out, full or overexposed; what is left out stays as it usually is. */
export const verdictSettings = z
  .strictObject({
    leastDeltaE: z.number().min(0).max(20).exactOptional(),
    leastTimesU: z.number().min(0).max(10).exactOptional(),
    leastDepthPercent: z.number().min(0).max(50).exactOptional(),
    fullWithinL: z.number().min(0).max(20).exactOptional(),
    overexposedStops: z.number().min(0).max(5).exactOptional(),
  })
  .readonly();

/** Settings of a reading that hold for a workshop rather than for a strip. */
export const readOptions = z
  .strictObject({
    /** The smallest step that the timer can be set by. */
    timerStepSeconds: z.number().min(0.01).max(3600).exactOptional(),
    verdictSettings: verdictSettings.exactOptional(),
  })
  .readonly();
export type ReadOptions = z.infer<typeof readOptions>;
