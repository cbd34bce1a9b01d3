import { beforeAll, describe, expect, it } from 'vitest';
import { formatTime, parseOneTime, parseTimes } from '../../web/times.ts';
import { speak } from '../../web/words.ts';

beforeAll(() => speak('en'));

const secondsOf = (text: string): readonly number[] => {
  const parsed = parseTimes(text);
  if (!parsed.ok) throw new Error(`"${parsed.notATime}" was taken for no time`);
  return parsed.seconds;
};

describe('parseTimes', () => {
  it.each([
    ['0, 60, 120', [0, 60, 120]],
    ['0:00 0:45 1:30', [0, 45, 90]],
    ['0:00, 0:30, 16:00', [0, 30, 960]],
    ['90 s, 1.5 min, 1 min 30 s, 1m30s, 1:30', [90, 90, 90, 90, 90]],
    ['1, 2, 4, 8 min', [60, 120, 240, 480]],
    ['1 2 4 min', [60, 120, 240]],
    ['30 s 1 min 2 min', [30, 60, 120]],
    ['1 min 30 s 2 min 15 s', [90, 135]],
    ['0\n1,5 min\n3 min', [0, 90, 180]],
    ['0; 0,5 min; 2 min', [0, 30, 120]],
    ['60,120,240', [60, 120, 240]],
    ['10 s, +1 stop, +1/2 stop', [10, 20, 20 * Math.SQRT2]],
    ['1:00; +30 s; +1:00', [60, 90, 150]],
    ['90 Sekunden; 1,5 Minuten; +1 Blende', [90, 90, 180]],
    ['', []],
    [' , ,', []],
  ] as const)('reads %j as %j seconds', (text, seconds) => {
    expect(secondsOf(text)).toEqual(seconds);
  });

  it.each([
    ['60, quick, 120', 'quick'],
    ['0, 30, soon', 'soon'],
    ['60, -5', '-5'],
    ['1:75', '1:75'],
    ['5 parsecs', '5 parsecs'],
    ['25 h', '25 h'],
  ])('finds what is no time in %j', (text, notATime) => {
    expect(parseTimes(text)).toEqual({ ok: false, notATime });
  });

  it('reads back what formatTime wrote, to the second from 10 s on and to 0.1 s below', () => {
    const times = [0, 2.8, 9.9, 10, 59, 60, 61, 600, 3600, 5999];
    expect(secondsOf(times.map(formatTime).join(', '))).toEqual(times);
  });
});

describe('formatTime', () => {
  it('writes minutes and seconds, minutes running past 59', () => {
    expect([0, 45, 90, 3660].map(formatTime)).toEqual(['00:00', '00:45', '01:30', '61:00']);
  });

  it('rounds 11.31 s to 00:11 and keeps 5.66 s as 00:05.7', () => {
    expect(formatTime(11.31)).toBe('00:11');
    expect(formatTime(5.66)).toBe('00:05.7');
  });
});

describe('a decimal comma', () => {
  it('stands before a single digit or a number with a unit, where the visitor writes it', () => {
    const read = (text: string) => parseTimes(text, true);
    expect(read('1,5 min, 3 min, 12,25 min')).toEqual({ ok: true, seconds: [90, 180, 735] });
    expect(read('60,120,240')).toEqual({ ok: true, seconds: [60, 120, 240] });
  });

  it('makes one time of "1,5 min" and none of "1, 5 min"', () => {
    expect(parseOneTime('1,5 min')).toBe(90);
    expect(parseOneTime('1, 5 min')).toBeNull();
    expect(parseOneTime('')).toBeNull();
  });
});

describe('a time that goes on from the one before', () => {
  it.each([['+1 stop'], ['60, +1'], ['60, +soon']] as const)('is none in %j', (text) => {
    expect(parseTimes(text).ok).toBe(false);
  });
});

describe('formatTime in German', () => {
  it('puts a comma before the tenth', async () => {
    await speak('de');
    expect(formatTime(5.66)).toBe('00:05,7');
    await speak('en');
  });
});
