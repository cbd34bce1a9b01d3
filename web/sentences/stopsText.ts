import { formatStops } from '../../analysis/plan/time.ts';
import { decimalSign } from '../numbers.ts';
import { words } from '../words.ts';

/** Stops as a printer says them, in the language that is spoken: "1 1/3 stops". */
export const stopsText = (stops: number, tolerance = 1e-3): string => {
  const [, amount = '', unit] = /^(.*) (stops?)$/.exec(formatStops(stops, tolerance)) ?? [];
  return words.stops(amount.replace('.', decimalSign()).replace('-', '−'), unit === 'stop');
};
