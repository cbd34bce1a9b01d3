import type { Verdict } from '../../server/contracts/reading.ts';

/**
 * A vat seen from the side: empty, half full, full, running over. The shape alone tells the verdict; its word stands
 * beside it or is given by the caller.
 */
export const VerdictSign = ({ verdict, size = 20 }: { verdict: Verdict; size?: number }) => (
  <svg class="sign" width={size} height={size} viewBox="0 0 20 20" aria-hidden="true">
    {verdict !== 'overexposed' && (
      <path
        d="M4 3v13h12V3"
        fill="none"
        stroke="currentColor"
        stroke-width="1.8"
        {...(verdict === 'washed-out' && { 'stroke-dasharray': '2.6 2' })}
      />
    )}
    {verdict === 'building' && <path d="M4 10h12v6H4z" fill="currentColor" />}
    {verdict === 'full-depth' && <path d="M4 5h12v11H4z" fill="currentColor" />}
    {verdict === 'overexposed' && (
      <path
        d="M5 4Q10-1 15 4V16H5zM2 5q3 4.500 0 5.500q-3-1 0-5.500M18 7.500q3 4.500 0 5.500q-3-1 0-5.500M2 11.500q3 4.500 0 5.500q-3-1 0-5.500"
        fill="currentColor"
      />
    )}
  </svg>
);
