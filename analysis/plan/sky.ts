import { AnalysisError } from '../errors.ts';
import { phrase } from '../phrases.ts';

export type Sky = 'clear' | 'scattered' | 'broken' | 'overcast';

export const SKIES: readonly Sky[] = ['clear', 'scattered', 'broken', 'overcast'];

interface SkyShare {
  /** Ultraviolet under this sky as a share of a clear sky's. */
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

// Middle values [domain-4.13]: 100, 89, 73, 31 % of clear-sky ultraviolet. Overcast spreads from 10 % (thick cover can
// stop 90 %) to 50 % (a cloudiest quarter took twice the clear time); the others have no published spread here.
const SHARES: Readonly<Record<Sky, SkyShare>> = {
  clear: { share: 1, low: 1, high: 1 },
  scattered: { share: 0.89, low: 0.89, high: 0.89 },
  broken: { share: 0.73, low: 0.73, high: 0.73 },
  overcast: { share: 0.31, low: 0.1, high: 0.5 },
};

export interface SkyFactor {
  /** Multiply the time by this. */
  readonly timeFactor: number;
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/**
 * By what factor does the time change when the sky changes? The inverse ratio of the ultraviolet that the two skies let
 * through. A rough start for a strip, never for a piece: sun times do not repeat, and the shares were measured for
 * sunburn-weighted light.
 *
 * @param madeFor the sky that the known time is for.
 * @param today the sky you print under.
 * @throws AnalysisError `plan-invalid` for an unknown sky.
 * @see [domain-4.13] second-hand; the spread of an overcast sky is wide.
 * @example skyFactor('clear', 'overcast').timeFactor // 3.2258
 */
export function skyFactor(madeFor: Sky, today: Sky): SkyFactor {
  for (const sky of [madeFor, today]) {
    if (!SKIES.includes(sky)) {
      throw new AnalysisError(
        'plan-invalid',
        `"${sky}" is not a known sky. Choose one of: ${SKIES.join(', ')}.`,
        { phrase: phrase('plan-sky-unknown', { sky, known: SKIES }) },
      );
    }
  }
  const from = SHARES[madeFor];
  const to = SHARES[today];
  if (madeFor === today) return { timeFactor: 1, low: 1, high: 1, source: 'domain-4.13' };
  return {
    timeFactor: from.share / to.share,
    low: from.low / to.high,
    high: from.high / to.low,
    source: 'domain-4.13',
  };
}
