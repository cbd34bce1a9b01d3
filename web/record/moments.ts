/** A moment in the form that fields for day and time have: the visitor's own clock. */
export const fieldMoment = (at: number): string => {
  const two = (n: number): string => String(n).padStart(2, '0');
  const day = new Date(at);
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}T${two(day.getHours())}:${two(day.getMinutes())}`;
};

/** The moment that such a field says, in milliseconds; null where it says none, or one still to come. */
export const momentIn = (text: string, now: number): number | null => {
  const at = Date.parse(text);
  return Number.isFinite(at) && at <= now + 60_000 ? at : null;
};
