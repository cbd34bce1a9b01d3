import { phrase } from '../../analysis/phrases.ts';
import { Refusal } from '../refusal.ts';

const DAY_MS = 86_400_000;

/** A moment in the one form that sorts as text: "2026-05-03T09:30:00.000Z". */
export const moment = (time: string | Date): string => new Date(time).toISOString();

export const daysBetween = (from: string, to: string): number => (Date.parse(to) - Date.parse(from)) / DAY_MS;

/**
 * When something was exposed, as given or now.
 *
 * @throws Refusal `request-invalid` for a day that is still to come.
 */
export const exposedMoment = (given: string | undefined, now: Date): string => {
  if (given === undefined) return moment(now);
  if (Date.parse(given) > now.getTime() + DAY_MS)
    throw new Refusal('request-invalid', 'The day of the exposure is still to come. Check the date.', {
      phrase: phrase('day-to-come', {}),
    });
  return moment(given);
};
