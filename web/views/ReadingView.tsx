import { goTo } from '../address.ts';
import { answer, ask } from '../answer.ts';
import { writeTimes } from '../draft.ts';
import { AnswerPanel, AnswerSentence } from '../parts/AnswerPanel.tsx';
import { FoundMarks } from '../parts/FoundMarks.tsx';
import { NextStripNote } from '../parts/NextStripNote.tsx';
import { ReadingNotes } from '../parts/ReadingNotes.tsx';
import { Stage } from '../parts/Stage.tsx';
import { StepTable } from '../parts/StepTable.tsx';
import { TargetControls } from '../parts/TargetControls.tsx';
import { KeepPart, KeptPart } from '../record/lazyParts.tsx';
import { pictureOf, saveFile, svgFileOf } from '../save.ts';
import type { Shown } from '../session.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';

const fileName = ({ reading }: Shown, ending: string): string => {
  const name = [reading.strip.dye, reading.strip.cloth]
    .join(' ')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return `${name || 'strip'}.${ending}`;
};

/** One strip as read: the answer, the strip along its curve, and everything that stands behind them. */
export const ReadingView = ({ shown }: { shown: Shown }) => {
  const { reading } = shown;
  const now = answer.value;
  if (!now) return null;
  const { dye, cloth, light } = reading.strip;
  const nextStrip = now.nextStrip && (
    <NextStripNote
      nextStrip={now.nextStrip}
      onUse={(seconds) => {
        writeTimes(seconds);
        goTo('read');
      }}
      onPlan={async (seconds) => {
        const { planDraft } = await import('../plan/planDraft.ts');
        const { beginToKeepPlan } = await import('../plan/planStore.ts');
        beginToKeepPlan();
        planDraft.start.value = 'times';
        planDraft.times.value = seconds.map(formatTime).join('; ');
        goTo('plan');
      }}
    />
  );
  const timed = now.roundedSeconds !== null;
  const fitted = reading.curve.kind === 'fitted';
  /** Beneath the curve, where it does not push the line about that is being dragged; first where there is no line. */
  const more = (
    <div class="answer-more">
      <AnswerSentence answer={now} outcome={reading.curve} />
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
      {!timed && nextStrip}
    </div>
  );
  return (
    <main class="reading-view" id="main" tabIndex={-1}>
      <header class="strip-title">
        <h1>
          {dye || words.frame.yourStrip} <span class="on-cloth">{cloth && `· ${cloth}`}</span>
        </h1>
        <p>{light}</p>
        {shown.demo && (
          <p class="demo-note">
            <span>{words.frame.demoNote}</span>{' '}
            <button type="button" class="quiet" onClick={() => goTo('read')}>
              {words.frame.readOwn}
            </button>
          </p>
        )}
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

      <div class="beneath">
        <StepTable reading={reading} onTarget={ask} />
        <div class="beneath-side">
          {timed && nextStrip}
          <FoundMarks key={shown.key} shown={shown} />
          <ReadingNotes reading={reading} />
          {shown.kept ? <KeptPart kept={shown.kept} /> : !shown.demo && <KeepPart shown={shown} />}
          <div class="saves">
            <button
              type="button"
              disabled={!reading.steps.some((step) => step.seconds > 0)}
              onClick={() => {
                const plot = document.querySelector<SVGSVGElement>('svg.plot');
                if (plot) saveFile(svgFileOf(plot), fileName(shown, 'svg'), 'image/svg+xml');
              }}
            >
              {words.stage.saveDrawing}
            </button>
            <button
              type="button"
              disabled={!reading.steps.some((step) => step.seconds > 0)}
              onClick={async () => {
                const plot = document.querySelector<SVGSVGElement>('svg.plot');
                const picture = plot && (await pictureOf(plot));
                if (picture) saveFile(picture, fileName(shown, 'png'), 'image/png');
              }}
            >
              {words.stage.savePicture}
            </button>
            <button
              type="button"
              onClick={() =>
                saveFile(JSON.stringify(reading, null, 2), fileName(shown, 'json'), 'application/json')
              }
            >
              {words.stage.saveReading}
            </button>
          </div>
        </div>
      </div>
    </main>
  );
};
