/** A name as it is compared: composed characters, lower case, single blanks. */
export const nameKey = (name: string): string =>
  name.normalize('NFC').trim().replace(/\s+/g, ' ').toLowerCase();
