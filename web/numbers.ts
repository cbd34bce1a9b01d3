import { words } from './words.ts';

const formats = new Map<string, Intl.NumberFormat>();

/** The visitor's own form of the language that is spoken: de-AT where the page speaks German and the device is there. */
export const localeTag = (): string => {
  const wished = typeof navigator === 'undefined' ? [] : navigator.languages;
  return wished.find((tag) => tag.split('-')[0] === words.language) ?? words.language;
};

/** A number with so many decimals, written as the visitor's language does. */
export const formatNumber = (value: number, decimals: number): string => {
  const locale = localeTag();
  const key = `${locale} ${decimals}`;
  let format = formats.get(key);
  if (!format) {
    format = new Intl.NumberFormat(locale, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
    });
    formats.set(key, format);
  }
  // The typographic sign, as everywhere else on the page; nothing is left of a minus before a rounded zero.
  const text = format.format(value).replace('-', '−');
  return /[1-9]/.test(text) ? text : text.replace('−', '');
};

/** The sign between whole numbers and decimals. */
export const decimalSign = (): string => formatNumber(0.5, 1).charAt(1);

/** A day and a time of day, as short as the visitor's language writes them. */
export const formatMoment = (at: number): string =>
  new Intl.DateTimeFormat(localeTag(), { dateStyle: 'medium', timeStyle: 'short' }).format(at);

/** A day, as short as the visitor's language writes it. */
export const formatDay = (at: number): string =>
  new Intl.DateTimeFormat(localeTag(), { dateStyle: 'medium' }).format(at);

/** A time of day, to the minute. */
export const formatHour = (at: number): string =>
  new Intl.DateTimeFormat(localeTag(), { timeStyle: 'short' }).format(at);

/** A number that a person typed, with a decimal point or comma; null where it is none. */
export const parseNumber = (text: string): number | null => {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (!/^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  return Number(plain);
};
