import type { Advice, Reading } from '../../server/contracts/reading.ts';
import { goTo } from '../address.ts';
import { ask } from '../answer.ts';
import { fillTimes } from '../fillTimes.ts';
import { KeepPart, KeptPart } from '../record/lazyParts.tsx';
import { saveFile } from '../save.ts';
import type { Shown } from '../session.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { FoundMarks } from './FoundMarks.tsx';
import { NextStripNote } from './NextStripNote.tsx';
import { ReadingNotes } from './ReadingNotes.tsx';
import { SavedPicture } from './SavedPicture.tsx';
import { StepTable } from './StepTable.tsx';

/** What files of a strip are called, without ending. */
const fileName = ({ strip: { dye, cloth } }: Reading): string =>
  [dye, cloth]
    .join(' ')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '') || 'strip';

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
  const name = fileName(reading);
  const saveReading = (
    <button
      type="button"
      onClick={() => saveFile(JSON.stringify(reading, null, 2), `${name}.json`, 'application/json')}
    >
      {words.stage.saveReading}
    </button>
  );
  return (
    <div class="beneath">
      <StepTable reading={reading} onTarget={ask} />
      <div class="beneath-side">
        {answer.roundedSeconds !== null && <NextStripPart answer={answer} />}
        <FoundMarks key={shown.key} shown={shown} />
        <ReadingNotes reading={reading} />
        {shown.kept ? <KeptPart kept={shown.kept} /> : !shown.demo && <KeepPart shown={shown} />}
        {reading.steps.some((step) => step.seconds > 0) ? (
          <SavedPicture drawing={() => document.querySelector<SVGSVGElement>('svg.plot')} name={name}>
            {saveReading}
          </SavedPicture>
        ) : (
          <div class="saves">{saveReading}</div>
        )}
      </div>
    </div>
  );
};
