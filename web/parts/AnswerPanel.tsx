import { colourAt } from '../../analysis/curve/evaluate.ts';
import type { Advice, CurveOutcome, Reading } from '../../server/contracts/reading.ts';
import type { Target } from '../../server/contracts/target.ts';
import { formatNumber } from '../numbers.ts';
import { adviceText } from '../sentences/adviceText.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { Swatch } from './Swatch.tsx';

const goalOf = (target: Target): string => {
  switch (target.kind) {
    case 'full':
      return words.answer.goalFull;
    case 'L':
      return words.answer.goalL(formatNumber(target.L, 1));
    case 'depth':
      return words.answer.goalDepth(formatNumber(target.percent, 0));
    case 'swatch':
      return words.answer.goalSwatch;
  }
};

/** The time in large figures, how sure it is, and what it gives. */
export const AnswerPanel = ({ reading, answer }: { reading: Reading; answer: Advice }) => {
  const curve = reading.curve.kind === 'fitted' ? reading.curve.curve : null;
  const { roundedSeconds, low, high, status } = answer;
  const headline =
    reading.curve.kind === 'blank'
      ? words.answer.blank
      : reading.curve.kind === 'count-differs'
        ? words.answer.countDiffers
        : status === 'inside'
          ? ''
          : words.answer.status[status];
  return (
    <section class="answer" aria-labelledby="answer-heading">
      <h2 id="answer-heading" class="answer-heading">
        {words.answer.expose} <span class="goal">{goalOf(answer.target)}</span>
      </h2>
      {headline && <p class="answer-status">{headline}</p>}
      <div class="answer-figure">
        {roundedSeconds === null ? (
          <p class="no-time">{words.answer.noTime}</p>
        ) : (
          <p class="time" aria-live="polite" aria-atomic="true">
            <span class="figures">{formatTime(roundedSeconds)}</span>
          </p>
        )}
        {curve && roundedSeconds !== null && (
          <Swatch {...colourAt(curve, roundedSeconds)} class="answer-swatch" />
        )}
      </div>
      {reading.warnings.some((w) => w.code === 'marks-uncertain') && (
        <p class="field-problem answer-doubt">
          <a href="#found-heading">{words.answer.doubt}</a>
        </p>
      )}
      {low !== null && high !== null && (
        <p class="interval-line">
          <strong>
            {answer.highOpen
              ? words.answer.openInterval(formatTime(low))
              : words.answer.interval(formatTime(low), formatTime(high))}
          </strong>{' '}
          {words.answer.intervalNote}
        </p>
      )}
    </section>
  );
};

/** The advice in a sentence, and what it is not. */
export const AnswerSentence = ({ answer, outcome }: { answer: Advice; outcome: CurveOutcome }) => (
  <>
    <p>{words.language === 'en' ? answer.sentence : adviceText(answer, outcome)}</p>
    {answer.roundedSeconds !== null && <p class="fine">{words.answer.scrap}</p>}
  </>
);
