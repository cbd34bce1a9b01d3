/** A place in the upright photo, in pixels from the left and from the top. */
export type Point = readonly [x: number, y: number];

/** Four corners, clockwise as seen in the photo. */
export type Quad = readonly [Point, Point, Point, Point];

/** Where a mark came from. */
export type MarkOrigin = 'hand' | 'free-form' | 'sheet';

/** What may be unsure in marks that were found: where the card, where the steps, how many, which way round. */
export type MarksPart = 'card' | 'strip' | 'count' | 'direction';

export interface CardMark {
  readonly name: string;
  readonly quad: Quad;
  readonly origin: MarkOrigin;
  /** 0..1; 1 for marks set by hand. */
  readonly confidence: number;
}

export interface StepMark {
  readonly seconds: number;
  readonly quad: Quad;
  readonly origin: MarkOrigin;
  readonly confidence: number;
}

/** Says where things are in one photo: card patches by name, steps in rising exposure. */
export interface Marks {
  readonly card: readonly CardMark[];
  readonly steps: readonly StepMark[];
  /** A piece of cloth, paint or paper in the photo whose colour is wanted. */
  readonly swatch?: { readonly quad: Quad };
  /** Bare, even areas round card and steps that tell the light of the table; anywhere round them when left out. */
  readonly surround?: readonly Quad[];
}
