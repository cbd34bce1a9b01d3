const PATCH: Readonly<Record<string, string>> = { white: 'Weiß', grey: 'Grau', black: 'Schwarz' };

/** The name of a card patch in German; a name that somebody gave stays as it is. */
export const germanPatchName = (name: string): string => PATCH[name] ?? name;

/** The same in the quotation marks of the language. */
export const germanPatch = (name: string): string => `„${germanPatchName(name)}“`;

/** How the sky is, in German. */
export const GERMAN_SKY = {
  clear: 'klar',
  scattered: 'leicht bewölkt',
  broken: 'stark bewölkt',
  overcast: 'bedeckt',
} as const;
