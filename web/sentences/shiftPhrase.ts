import { type Phrase, phrase } from '../../analysis/phrases.ts';
import type { Control } from '../../server/contracts/recordUse.ts';

const factorOf = (stops: number | null): number | null => (stops === null ? null : 2 ** -stops);

/** What a control scrap says, for other languages than English; undefined where it tells no shift. */
export const shiftPhrase = ({ shiftStops: shift }: Control): Phrase | undefined =>
  shift.value === null
    ? undefined
    : phrase('transferred', {
        shift,
        factor: {
          value: factorOf(shift.value),
          low: factorOf(shift.high),
          high: factorOf(shift.low),
        },
      });
