import { goTo } from '../address.ts';
import { answer, ask } from '../answer.ts';
import { AnswerPanel, AnswerSentence } from '../parts/AnswerPanel.tsx';
import { useBehind } from '../parts/lazyBeneath.ts';
import { Stage } from '../parts/Stage.tsx';
import { TargetControls } from '../parts/TargetControls.tsx';
import type { Shown } from '../session.ts';
import { words } from '../words.ts';

/** One strip as read: the answer and the strip along its curve; what stands behind them comes after the first drawing. */
export const ReadingView = ({ shown }: { shown: Shown }) => {
  const { reading } = shown;
  const behind = useBehind();
  const now = answer.value;
  if (!now) return null;
  const { dye, cloth, light } = reading.strip;
  const timed = now.roundedSeconds !== null;
  const fitted = reading.curve.kind === 'fitted';
  /** Beneath the curve, where it does not push the line about that is being dragged; first where there is no line. */
  const more = (
    <div class="answer-more">
      <AnswerSentence answer={now} outcome={reading.curve} />
      {shown.demo && (
        <p class="demo-note">
          <span>{words.frame.demoNote}</span>
          <button type="button" onClick={() => goTo('read')}>
            {words.frame.readOwn}
          </button>
        </p>
      )}
      {!shown.demo && !shown.kept && (
        <p>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              const heading = document.getElementById('keep-heading');
              heading?.scrollIntoView({ block: 'start' });
              heading?.focus({ preventScroll: true });
            }}
          >
            {words.frame.toKeep}
          </button>
        </p>
      )}
      {!timed && behind && <behind.NextStripPart answer={now} />}
    </div>
  );
  return (
    <main class="reading-view" id="main" tabIndex={-1}>
      <header class="strip-title">
        <h1>
          {dye || words.frame.yourStrip} <span class="on-cloth">{cloth && `· ${cloth}`}</span>
        </h1>
        <p>{[shown.demo && words.frame.demo, light].filter(Boolean).join(' · ')}</p>
      </header>

      <div class="bench">
        <AnswerPanel reading={reading} answer={now} />
        {!fitted && more}
        <section class="bench-stage" aria-labelledby="stage-heading">
          <h2 id="stage-heading" class="unseen">
            {words.stage.heading}
          </h2>
          <Stage shown={shown} answer={now} onTarget={ask} />
          <p class="fine stage-note">{words.stage.barsNote}</p>
        </section>
        {fitted && more}
        {reading.curve.kind === 'fitted' && (
          <TargetControls curve={reading.curve.curve} answer={now} onTarget={ask} />
        )}
      </div>

      {behind && <behind.Beneath shown={shown} answer={now} />}
    </main>
  );
};
