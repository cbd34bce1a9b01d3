const formats = new Map<number, Intl.NumberFormat>();

/** A number with so many decimals, written as the visitor's language does. */
export const formatNumber = (value: number, decimals: number): string => {
  let format = formats.get(decimals);
  if (!format) {
    format = new Intl.NumberFormat(undefined, {
      minimumFractionDigits: decimals,
      maximumFractionDigits: decimals,
    });
    formats.set(decimals, format);
  }
  return format.format(value);
};

/** A number that a person typed, with a decimal point or comma; null where it is none. */
export const parseNumber = (text: string): number | null => {
  const plain = text.trim().replace(',', '.');
  if (!/^[-+]?(\d+\.?\d*|\.\d+)$/.test(plain)) return null;
  return Number(plain);
};
