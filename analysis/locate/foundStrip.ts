import type { Quad } from './marks.ts';

/** A strip found in the small photo, with what speaks for and against it. */
export interface FoundStrip {
  /** Areas of the steps in rising exposure. */
  readonly steps: readonly Quad[];
  readonly pieces: 'one' | 'scraps';
  /** ln odds of the direction against the opposite one; for scraps by how much their misfit is worse. */
  readonly directionOdds: number;
  /** ln odds of the steps lying here against elsewhere along the cloth; large for scraps. */
  readonly placeOdds: number;
  /** Share of the borders between steps, or of the scraps, that can be seen, 0..1. */
  readonly seenShare: number;
  /** Share of the length that is even across and set off from what lies beside it, 0..1. */
  readonly bounded: number;
  /** Change of tone from the first to the last step, ln. */
  readonly toneRange: number;
  /** Standard deviation of ln width where widths can be measured; for scraps their misfit. */
  readonly irregularity: number;
  /** ln odds of the count against one step fewer, and one more, as far as the cloth tells; negative where it is worse. */
  readonly countOdds: readonly [fewer: number, more: number];
  /** True where the two lightest steps look alike and as much cloth again lies beyond: no saying where they begin. */
  readonly openStart: boolean;
  /** How surely cloth beside the steps belongs to a step left out, 0..2. */
  readonly unclaimed: number;
  /** How good another band elsewhere in the photo is as a strip, as a share of this one; 0 where there is none. */
  readonly rival: number;
  /** Pieces like the scraps that were left over. */
  readonly leftOver: number;
}
