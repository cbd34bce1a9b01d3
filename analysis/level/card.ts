/** One neutral patch of known luminous reflectance. */
export interface CardPatch {
  readonly name: string;
  /** Luminous reflectance factor, 0..1, perfect white = 1. */
  readonly Y: number;
  /** Relative standard uncertainty of Y. */
  readonly relativeU: number;
}

/** The card beside the strip; patches in no particular order. */
export interface Card {
  readonly kind: 'grey-18' | 'white-grey-black' | 'grey-scale' | 'chart-24' | 'own';
  readonly patches: readonly CardPatch[];
}

/** What the printer says about a strip: names, the card beside it, exposures in rising order. */
export interface Strip {
  readonly dye: string;
  readonly cloth: string;
  readonly light: string;
  readonly card: Card;
  /** Exposure times in seconds, rising; 0 is the unexposed base and may be missing. */
  readonly steps: readonly { readonly seconds: number }[];
}
