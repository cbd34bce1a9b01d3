import type { Advice } from '../../server/contracts/reading.ts';
import { formatNumber } from '../numbers.ts';
import { phraseText } from '../sentences/phraseText.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';

/** The strip to make next, ready to be taken over into the form. */
export const NextStripNote = ({
  nextStrip,
  onUse,
  onPlan,
}: {
  nextStrip: NonNullable<Advice['nextStrip']>;
  onUse: (seconds: readonly number[]) => void;
  onPlan: (seconds: readonly number[]) => void;
}) => (
  <section class="next-strip" aria-labelledby="next-heading">
    <h2 id="next-heading">{words.next.heading}</h2>
    <ul class="times" aria-label={words.next.times}>
      {nextStrip.seconds.map((seconds) => (
        <li key={seconds}>{seconds === 0 ? words.stage.base : formatTime(seconds)}</li>
      ))}
    </ul>
    {nextStrip.expectedWidthStops === null ? (
      <p>
        {words.language === 'en'
          ? nextStrip.reason
          : (phraseText(nextStrip.phrase) ??
            words.sentences.nextStrip(nextStrip.seconds.filter((seconds) => seconds > 0).length))}
      </p>
    ) : (
      <p>
        {words.next.expected(formatNumber(nextStrip.expectedWidthStops, 2))}
        {nextStrip.expectedTogetherStops !== null &&
          ` ${words.next.together(formatNumber(nextStrip.expectedTogetherStops, 2))}`}
      </p>
    )}
    <div class="saves">
      <button type="button" onClick={() => onPlan(nextStrip.seconds)}>
        {words.next.plan}
      </button>
      <button type="button" onClick={() => onUse(nextStrip.seconds)}>
        {words.next.use}
      </button>
    </div>
  </section>
);
