import { formatClock, parseSeconds, parseStops } from '../analysis/plan/time.ts';
import { decimalSign } from './numbers.ts';

/** What a list of times means: seconds in the order written, or the first piece of text that is no time. */
export type ParsedTimes =
  | { readonly ok: true; readonly seconds: readonly number[] }
  | { readonly ok: false; readonly notATime: string };

const isUnit = (word: string): boolean => /^([a-z]+|['"′″’])$/i.test(word);
const isMinutes = (text: string): boolean => /\d\s*(m|min|mins|minutes?)$/i.test(text);
const isPartOfAMinute = (text: string): boolean => /^([0-5]?\d)(\.\d+)?\s*(s|sec|secs|seconds?)$/i.test(text);
const isBare = (text: string): boolean => /^\d+(\.\d+)?$/.test(text);
const isAdded = (text: string): boolean => text.startsWith('+');

/** German units, as the planner's own. */
const UNITS: readonly (readonly [RegExp, string])[] = [
  [/\b(sek\.?|sekunden?)(?![a-z])/gi, 's'],
  [/\bminuten(?![a-z])/gi, 'min'],
  [/\b(std\.?|stunden?)(?![a-z])/gi, 'h'],
  [/\bblenden?(?![a-z])/gi, 'stops'],
];

/** One piece between commas, parted into the texts of its times: "1 min 30 s 2 min" into "1 min 30 s" and "2 min". */
const partedAtBlanks = (piece: string): readonly string[] => {
  if (isAdded(piece.trim())) return [piece.trim()];
  const texts: string[] = [];
  for (const word of piece.split(/\s+/).filter(Boolean)) {
    if (isUnit(word) && texts.length > 0) texts[texts.length - 1] += ` ${word}`;
    else texts.push(word);
    const [before, last] = texts.slice(-2);
    if (last !== undefined && isMinutes(before) && isPartOfAMinute(last))
      texts.splice(-2, 2, `${before} ${last}`);
  }
  return texts;
};

/** Commas that stand inside a number, made points: in lists parted otherwise, and where the visitor writes 1,5 min. */
const withPoints = (text: string, decimalComma: boolean): string => {
  if (/[;\n]/.test(text)) return text.replace(/(\d),(\d)/g, '$1.$2');
  return decimalComma ? text.replace(/(\d),(\d+)(?=\s*[a-z])|(\d),(\d)(?!\d)/gi, '$1$3.$2$4') : text;
};

/** "+1/2 stop" multiplies the time before, "+30 s" adds to it; null where it is neither. */
const addedTo = (before: number | undefined, text: string): number | null => {
  if (before === undefined) return null;
  const amount = text.slice(1).trim();
  try {
    if (/stops?$|[/½⅓⅔¼¾⅙]/i.test(amount)) return before * 2 ** parseStops(amount);
    return isBare(amount) ? null : before + parseSeconds(amount);
  } catch {
    return null;
  }
};

/**
 * Reads a list of times as people write them: `0:45`, `90`, `90 s`, `1.5 min`, `1 min 30 s`, parted by commas,
 * semicolons, blanks or lines. A bare number is seconds; a unit written once, at the end, is meant for the whole list
 * (`1, 2, 4 min`). `+1/2 stop` and `+30 s` go on from the time before. In lists parted by semicolons or lines a comma is
 * a decimal comma; with `decimalComma` it is also one between a digit and a single digit or a number with a unit.
 */
export const parseTimes = (text: string, decimalComma = false): ParsedTimes => {
  const said = UNITS.reduce((plain, [unit, own]) => plain.replace(unit, own), text);
  const texts = withPoints(said, decimalComma)
    .split(/[,;\n]/)
    .flatMap(partedAtBlanks)
    .filter(Boolean);
  const [last] = texts.slice(-1);
  const sharedUnit =
    texts.length > 1 && texts.slice(0, -1).every(isBare)
      ? (/^[\d.]+\s*([a-z]+)$/i.exec(last)?.[1] ?? '')
      : '';
  const seconds: number[] = [];
  for (const time of texts) {
    if (isAdded(time)) {
      const added = addedTo(seconds.at(-1), time);
      if (added === null) return { ok: false, notATime: time };
      seconds.push(added);
      continue;
    }
    try {
      seconds.push(parseSeconds(isBare(time) ? `${time} ${sharedUnit}`.trim() : time));
    } catch {
      return { ok: false, notATime: time };
    }
  }
  return { ok: true, seconds };
};

/** The one time that a text means; null where it means none or several. "1,5 min" is one. */
export const parseOneTime = (text: string): number | null => {
  const parsed = parseTimes(text, true);
  return parsed.ok && parsed.seconds.length === 1 ? parsed.seconds[0] : null;
};

/**
 * mm:ss to the nearest whole second from ten seconds on, to a tenth below: what a timer shows. The tenth stands behind
 * the visitor's own decimal sign.
 */
export const formatTime = (seconds: number): string =>
  formatClock(seconds >= 10 ? Math.round(seconds) : seconds).replace('.', decimalSign());
