/** A place in the upright photo, in pixels from the left and from the top. */
export type Point = readonly [x: number, y: number];

/** Four corners, clockwise as seen in the photo. */
export type Quad = readonly [Point, Point, Point, Point];

/** Where a mark came from. */
export type MarkOrigin = 'hand' | 'free-form' | 'sheet';

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
}
