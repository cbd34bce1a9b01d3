/** How a card patch is called in a sentence. */
export const patchName = (name: string): string => `card patch "${name}"`;

/** How a step is called in a sentence. */
export const stepName = (seconds: number): string =>
  seconds === 0 ? 'the unexposed base' : `the step of ${seconds} s`;

/** A sentence's first letter made large. */
export const sentence = (text: string): string => text[0].toUpperCase() + text.slice(1);
