import type { Reading } from '../../analysis/reading.ts';

/** What a reading of a white-grey-black card was asked with, as a kept reading holds it. */
export const settingsOf = (reading: Reading) => ({
  strip: {
    ...reading.strip,
    card: 'white-grey-black' as const,
    steps: reading.steps.map(({ seconds }) => ({ seconds })),
  },
  marks: reading.marks,
  target: reading.advice.target,
  seed: 1,
});
