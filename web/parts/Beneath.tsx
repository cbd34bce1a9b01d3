import type { Advice } from '../../server/contracts/reading.ts';
import { goTo } from '../address.ts';
import { ask } from '../answer.ts';
import { fillTimes } from '../fillTimes.ts';
import { KeepPart, KeptPart } from '../record/lazyParts.tsx';
import { pictureOf, saveFile, svgFileOf } from '../save.ts';
import type { Shown } from '../session.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { FoundMarks } from './FoundMarks.tsx';
import { NextStripNote } from './NextStripNote.tsx';
import { ReadingNotes } from './ReadingNotes.tsx';
import { StepTable } from './StepTable.tsx';

const fileName = ({ reading }: Shown, ending: string): string => {
  const name = [reading.strip.dye, reading.strip.cloth]
    .join(' ')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return `${name || 'strip'}.${ending}`;
};

/** The next strip that the answer advises, with ways on; nothing where it advises none. */
export const NextStripPart = ({ answer: { nextStrip } }: { answer: Advice }) =>
  nextStrip && (
    <NextStripNote
      nextStrip={nextStrip}
      onUse={(seconds) => {
        fillTimes(seconds);
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

/** Everything that stands behind an answer: steps, photos, notes, ways to keep and to save. */
export const Beneath = ({ shown, answer }: { shown: Shown; answer: Advice }) => {
  const { reading } = shown;
  return (
    <div class="beneath">
      <StepTable reading={reading} onTarget={ask} />
      <div class="beneath-side">
        {answer.roundedSeconds !== null && <NextStripPart answer={answer} />}
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
  );
};
