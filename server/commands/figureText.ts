import type { Figure } from '../../analysis/across/interval.ts';

/** "12.0 to 12.6", "12.0 or more", "12.6 or less"; null where there is no interval. */
export const intervalText = ({ low, high }: Figure, say: (value: number) => string): string | null => {
  if (low === null) return high === null ? null : `${say(high)} or less`;
  return high === null ? `${say(low)} or more` : `${say(low)} to ${say(high)}`;
};

/** "12.3 L* (12.0 to 12.6)", or "not known". */
export const figureText = (figure: Figure, say: (value: number) => string, unit = ''): string => {
  if (figure.value === null) return 'not known';
  const interval = intervalText(figure, say);
  return [say(figure.value), unit, interval === null ? '' : `(${interval})`].filter(Boolean).join(' ');
};
