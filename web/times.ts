import { formatClock, parseSeconds } from '../analysis/plan/time.ts';

/** What a list of times means: seconds in the order written, or the first piece of text that is no time. */
export type ParsedTimes =
  | { readonly ok: true; readonly seconds: readonly number[] }
  | { readonly ok: false; readonly notATime: string };

const isUnit = (word: string): boolean => /^([a-z]+|['"′″’])$/i.test(word);
const isMinutes = (text: string): boolean => /\d\s*(m|min|mins|minutes?)$/i.test(text);
const isPartOfAMinute = (text: string): boolean => /^([0-5]?\d)(\.\d+)?\s*(s|sec|secs|seconds?)$/i.test(text);
const isBare = (text: string): boolean => /^\d+(\.\d+)?$/.test(text);

/** One piece between commas, parted into the texts of its times: "1 min 30 s 2 min" into "1 min 30 s" and "2 min". */
const partedAtBlanks = (piece: string): readonly string[] => {
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

/**
 * Reads a list of times as people write them: `0:45`, `90`, `90 s`, `1.5 min`, `1 min 30 s`, parted by commas,
 * semicolons, blanks or lines. A bare number is seconds; a unit written once, at the end, is meant for the whole list
 * (`1, 2, 4 min`). In lists parted by semicolons or lines a comma is a decimal comma.
 */
export const parseTimes = (text: string): ParsedTimes => {
  const plain = /[;\n]/.test(text) ? text.replace(/(\d),(\d)/g, '$1.$2') : text;
  const texts = plain.split(/[,;\n]/).flatMap(partedAtBlanks);
  const [last] = texts.slice(-1);
  const sharedUnit =
    texts.length > 1 && texts.slice(0, -1).every(isBare)
      ? (/^[\d.]+\s*([a-z]+)$/i.exec(last)?.[1] ?? '')
      : '';
  const seconds: number[] = [];
  for (const time of texts) {
    try {
      seconds.push(parseSeconds(isBare(time) ? `${time} ${sharedUnit}`.trim() : time));
    } catch {
      return { ok: false, notATime: time };
    }
  }
  return { ok: true, seconds };
};

/** mm:ss to the nearest whole second from ten seconds on, to a tenth below: what a timer shows. */
export const formatTime = (seconds: number): string =>
  formatClock(seconds >= 10 ? Math.round(seconds) : seconds);
