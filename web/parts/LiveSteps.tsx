import { useEffect, useState } from 'preact/hooks';
import type { LookAnswer } from '../../server/contracts/look.ts';
import { formatNumber } from '../numbers.ts';
import { words } from '../words.ts';
import { Swatch } from './Swatch.tsx';

/** What is read out waits until the hand rests. */
const REST_MS = 900;

/** Number, colour and L* of each step, as they are with the marks where the hand has them. */
export const LiveSteps = ({ steps }: { steps: LookAnswer['steps'] }) => {
  const [said, say] = useState('');
  const values = steps.map(({ L }) => formatNumber(L, 1)).join('; ');
  useEffect(() => {
    const resting = setTimeout(() => say(values), REST_MS);
    return () => clearTimeout(resting);
  }, [values]);
  return (
    <div class="live">
      <p class="fine">{words.photo.live}</p>
      <ol class="live-steps">
        {steps.map(({ L, a, b }, i) => (
          <li key={i}>
            <span class="fine">{i + 1}</span>
            <Swatch L={L} a={a} b={b} />
            <span class="live-value">{formatNumber(L, 1)}</span>
          </li>
        ))}
      </ol>
      <p class="unseen" role="status">
        {said && words.photo.liveSaid(said)}
      </p>
    </div>
  );
};
