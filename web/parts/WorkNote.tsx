import { useEffect, useState } from 'preact/hooks';
import { formatNumber } from '../numbers.ts';
import { stopWork, work } from '../session.ts';
import { words } from '../words.ts';

/** What is under way and for how long, with a way to stop it. */
export const WorkNote = () => {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const clock = setInterval(() => setNow(Date.now()), 100);
    return () => clearInterval(clock);
  }, []);
  if (work.value.kind !== 'reading') return null;
  const seconds = Math.max(0, now - work.value.since) / 1000;
  return (
    <div class="work" role="status">
      <progress aria-label={words.form.reading} />
      <span>{words.form.reading}</span>
      <span class="fine" aria-hidden="true">
        {words.form.readingFor(formatNumber(seconds, 1))}
      </span>
      <button type="button" onClick={stopWork}>
        {words.form.cancel}
      </button>
    </div>
  );
};
