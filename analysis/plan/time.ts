import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

const SECONDS_PER_UNIT = new Map(
  Object.entries({ s: 1, sec: 1, secs: 1, second: 1, seconds: 1 })
    .concat(Object.entries({ m: 60, min: 60, mins: 60, minute: 60, minutes: 60 }))
    .concat(Object.entries({ h: 3600, hr: 3600, hour: 3600, hours: 3600 })),
);

const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅙': '1/6',
};

/** Longest time that is read as an exposure: 24 h. */
export const LONGEST_SECONDS = 86_400;

/**
 * How many seconds did the printer write? Reads "90" and "90 s" (seconds), "1.5 min", "1,5 min", "2 min 30 s", "1 h",
 * "12:42" and 12'42" (minutes and seconds), "1:01:40" (hours, minutes, seconds). A bare number is seconds.
 *
 * @returns seconds, 0 to 86 400 (24 h).
 * @throws AnalysisError `plan-invalid` when the text is none of these, negative or longer than 24 h.
 * @example parseSeconds("12:42") // 762
 */
export function parseSeconds(text: string): number {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/(\d),(\d)/g, '$1.$2')
    .replaceAll('′', "'")
    .replaceAll('’', "'")
    .replaceAll('″', '"');
  const seconds = clockSeconds(plain) ?? unitSeconds(plain);
  if (seconds === null) {
    throw new AnalysisError(
      'plan-invalid',
      `"${text}" is not a time. Write seconds ("90"), minutes and seconds ("1:30") or a unit ("1.5 min").`,
      { phrase: phrase('time-unclear', { text }) },
    );
  }
  if (seconds > LONGEST_SECONDS) {
    throw new AnalysisError('plan-invalid', `"${text}" is longer than 24 h. Give a time of 24 h or less.`, {
      phrase: phrase('time-long', { text, hours: LONGEST_SECONDS / 3600 }),
    });
  }
  return seconds;
}

function clockSeconds(plain: string): number | null {
  const clock = /^(?:(\d+):)?(\d+):(\d{2}(?:\.\d+)?)$/.exec(plain);
  const primes = /^(\d+)'\s*(?:(\d{1,2}(?:\.\d+)?)"?)?$/.exec(plain);
  const parts = clock ?? (primes && [primes[0], undefined, primes[1], primes[2] ?? '0']);
  if (!parts) return null;
  const hours = Number(parts[1] ?? 0);
  const minutes = Number(parts[2]);
  const seconds = Number(parts[3]);
  if (seconds >= 60 || (parts[1] !== undefined && minutes >= 60)) return null;
  return hours * 3600 + minutes * 60 + seconds;
}

function unitSeconds(plain: string): number | null {
  if (/^\d+(\.\d+)?$/.test(plain)) return Number(plain);
  if (!/^(\d+(\.\d+)?\s*[a-z]+\s*)+$/.test(plain)) return null;
  let seconds = 0;
  for (const [, amount, unit] of plain.matchAll(/(\d+(?:\.\d+)?)\s*([a-z]+)/g)) {
    const perUnit = SECONDS_PER_UNIT.get(unit);
    if (perUnit === undefined) return null;
    seconds += Number(amount) * perUnit;
  }
  return seconds;
}

/**
 * How many stops did the printer write? Reads "1", "0.5", "1/3", "1 1/2", "½", "-1/3", each with or without "stop(s)".
 *
 * @returns stops (factors of two in exposure), signed, at most 20 either way.
 * @throws AnalysisError `plan-invalid` when the text is none of these.
 * @example parseStops("1/3 stop") // 0.3333
 */
export function parseStops(text: string): number {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/(\d),(\d)/g, '$1.$2')
    .replace(/\s*stops?$/, '')
    .replace(/[½⅓⅔¼¾⅙]/g, (sign) => ` ${VULGAR[sign] ?? ''}`)
    .replace(/^([-+−]?)\s+/, '$1')
    .trim();
  const match = /^([-+−]?)(?:(\d+(?:\.\d+)?)(?!\/)(?:\s+|$))?(?:(\d+)\/(\d+))?$/.exec(plain);
  const whole = match?.[2];
  const over = match?.[3];
  const under = match?.[4];
  if (!match || (whole === undefined && over === undefined) || Number(under ?? 1) === 0) {
    throw new AnalysisError(
      'plan-invalid',
      `"${text}" is not a number of stops. Write it like "1", "0.5", "1/3" or "1 1/2".`,
      { phrase: phrase('stops-unclear', { text }) },
    );
  }
  const size = Number(whole ?? 0) + (over === undefined ? 0 : Number(over) / Number(under));
  if (size > 20) {
    throw new AnalysisError(
      'plan-invalid',
      `"${text}" is more than 20 stops, a factor of a million. Give fewer.`,
      { phrase: phrase('stops-many', { text, most: 20 }) },
    );
  }
  const sign = match[1] === '-' || match[1] === '−' ? -1 : 1;
  return size === 0 ? 0 : sign * size;
}

/**
 * How does a time read on a darkroom clock? Minutes and seconds as mm:ss, minutes running on past 59; a tenth is shown
 * only where there is one.
 *
 * @param seconds 0 or more.
 * @throws AnalysisError `plan-invalid` for a negative or non-finite number.
 * @example formatClock(762) // "12:42"
 */
export function formatClock(seconds: number): string {
  if (!Number.isFinite(seconds) || seconds < 0) {
    throw new AnalysisError('plan-invalid', `A clock cannot show ${seconds} s. Give a time of 0 s or more.`, {
      phrase: phrase('plan-time-unfit', { of: 'clock', seconds }),
    });
  }
  const tenths = Math.round(seconds * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = tenths - minutes * 600;
  const whole = Math.floor(rest / 10);
  const tenth = rest % 10;
  const clock = `${String(minutes).padStart(2, '0')}:${String(whole).padStart(2, '0')}`;
  return tenth === 0 ? clock : `${clock}.${tenth}`;
}

const FRACTIONS: readonly (readonly [number, string])[] = [
  [0, ''],
  [1 / 6, '1/6'],
  [1 / 4, '1/4'],
  [1 / 3, '1/3'],
  [1 / 2, '1/2'],
  [2 / 3, '2/3'],
  [3 / 4, '3/4'],
  [5 / 6, '5/6'],
];

/**
 * How are stops said? As a whole number and a usual fraction where they fall on one, else with two decimals.
 *
 * @param tolerance how near counts as falling on one, in stops: 0.001 unless said otherwise.
 * @example formatStops(4 / 3) // "1 1/3 stops"
 */
export function formatStops(stops: number, tolerance = 1e-3): string {
  const size = Math.abs(stops);
  const sign = stops < 0 ? '-' : '';
  const whole = Math.floor(size + tolerance);
  const fraction = FRACTIONS.find(([value]) => Math.abs(size - whole - value) <= tolerance);
  const text = fraction
    ? [whole === 0 && fraction[1] !== '' ? '' : String(whole), fraction[1]].filter(Boolean).join(' ')
    : size.toFixed(2);
  return `${sign}${text} ${text === '1' || (size < 1 && text !== '0') ? 'stop' : 'stops'}`;
}
