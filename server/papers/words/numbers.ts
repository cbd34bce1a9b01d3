import { clock } from '../../../analysis/advice/settable.ts';
import type { Formats } from '../../../analysis/words/formats.ts';

/** Numbers and times with this decimal sign, a true minus sign, and none before a zero. */
export const formatsWith = (decimalSign: '.' | ','): Formats => ({
  number: (value, decimals) =>
    (Math.abs(value) < 0.5 * 10 ** -decimals ? 0 : value)
      .toFixed(decimals)
      .replace('-', '−')
      .replace('.', decimalSign),
  time: (seconds) => clock(seconds).replace('.', decimalSign),
});
