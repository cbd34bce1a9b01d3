import type { Quad } from './marks.ts';

/** A strip found in the small photo, with what speaks for and against it. */
export interface FoundStrip {
  /** Areas of the steps in rising exposure. */
  readonly steps: readonly Quad[];
  readonly pieces: 'one' | 'scraps';
  /** Nats, or misfit of scraps, by which the opposite direction is worse. */
  readonly directionGap: number;
  /** Nats by which the best answer with an end elsewhere is worse; large for scraps. */
  readonly endGap: number;
  /** Share of the borders between steps, or of the scraps, that can be seen, 0..1. */
  readonly seenShare: number;
  /** Share of the length that is even across and set off from what lies beside it, 0..1. */
  readonly bounded: number;
  /** Change of tone from the first to the last step, ln. */
  readonly toneRange: number;
  /** Standard deviation of ln width where widths can be measured; for scraps their misfit. */
  readonly irregularity: number;
  /** Nats by which one step fewer, and one more, explain what is seen worse; negative where better. */
  readonly countGaps: readonly [fewer: number, more: number];
  /** Pieces like the scraps that were left over. */
  readonly leftOver: number;
}
