import { useEffect } from 'preact/hooks';
import { goTo, place } from '../address.ts';
import { isUnderWay, run } from '../run/run.ts';
import { words } from '../words.ts';

/** Says on every other view that a strip is being exposed, and keeps its clock announcing. */
export const RunningNote = () => {
  const running = isUnderWay(run.value);
  useEffect(() => {
    if (running) import('../run/ticker.ts').then(({ beginToTick }) => beginToTick());
  }, [running]);
  if (!running || place.value.view === 'run') return null;
  return (
    <p class="running-note" role="status">
      <span>{words.frame.running}</span>
      <button type="button" onClick={() => goTo('run')}>
        {words.frame.backToClock}
      </button>
    </p>
  );
};
