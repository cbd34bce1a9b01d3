import type { Verdict } from '../../server/contracts/reading.ts';

/**
 * A vat seen from the side: empty, half full, full, running over. The shape alone tells the verdict; its word stands
 * beside it or is given by the caller.
 */
export const VerdictSign = ({ verdict, size = 20 }: { verdict: Verdict; size?: number }) => (
  <svg class="sign" width={size} height={size} viewBox="0 0 20 20" aria-hidden="true">
    {verdict === 'washed-out' && (
      <path d="M4 3v13h12V3" fill="none" stroke="currentColor" stroke-width="1.8" stroke-dasharray="2.6 2" />
    )}
    {verdict !== 'washed-out' && (
      <path d="M4 3v13h12V3" fill="none" stroke="currentColor" stroke-width="1.8" />
    )}
    {verdict === 'building' && <path d="M4 10h12v6H4z" fill="currentColor" />}
    {verdict === 'full-depth' && <path d="M4 5h12v11H4z" fill="currentColor" />}
    {verdict === 'overexposed' && (
      <path
        d="M4 4Q10-1 16 4V16H4zM1.500 6.500q2 3 0 4q-2-1 0-4M18.500 9q2 3 0 4q-2-1 0-4M1.500 13q2 3 0 4q-2-1 0-4"
        fill="currentColor"
      />
    )}
  </svg>
);
