import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Marks } from '../../server/contracts/marks.ts';
import { areProper } from '../handMarks.ts';
import { demoText } from '../sentences/demoText.ts';
import { followMarks, readAgain, restoreShown, type Shown, work } from '../session.ts';
import { words } from '../words.ts';
import { MarkEditorPart, TapPhotoPart } from './lazyMarks.tsx';
import { MarkedPhoto } from './MarkedPhoto.tsx';
import { ProblemNote } from './ProblemNote.tsx';
import type { TapPart } from './TapPhoto.tsx';
import { WorkNote } from './WorkNote.tsx';

const TAPPED: readonly TapPart[] = ['card', 'strip'];

/** The reading follows when the hand has rested for so long. */
const FOLLOW_MS = 250;

/** The photo with what was read drawn over it; on request, with handles to put it right. */
export const FoundMarks = ({ shown }: { shown: Shown }) => {
  const edited = useSignal<Marks | null>(null);
  const { reading, preview } = shown;
  const tapping = useSignal(false);
  const tapFailed = useSignal(false);
  const unsure = TAPPED.filter((part) => reading.needs.some((need) => need.part === part));
  const before = useRef<Shown>(shown);
  const waiting = useRef<ReturnType<typeof setTimeout>>(undefined);
  const { widthPx, heightPx, format } = reading.photo;
  const again = async (marks: Marks): Promise<void> => {
    clearTimeout(waiting.current);
    if (await readAgain({ marks })) edited.value = null;
  };
  return (
    <section class="found" aria-labelledby="found-heading">
      <h2 id="found-heading">{words.photo.heading}</h2>
      {shown.demo && (
        <p class="fine" lang={demoText(shown.demo).inEnglish ? 'en' : undefined}>
          {demoText(shown.demo).story}
        </p>
      )}
      {tapping.value ? (
        <>
          <TapPhotoPart
            preview={preview}
            parts={unsure.length > 0 ? unsure : TAPPED}
            onDone={async (taps) => {
              tapFailed.value = !(await readAgain({ taps }));
              tapping.value = false;
            }}
            onStop={() => {
              tapping.value = false;
            }}
          />
          <WorkNote />
        </>
      ) : edited.value === null ? (
        <>
          {unsure.length > 0 && shown.kept === null && (
            <div class="tap-ask">
              <p>
                <strong>{words.photo.unsure}</strong>
              </p>
              <button
                type="button"
                onClick={() => {
                  tapping.value = true;
                }}
              >
                {unsure.length === 2 ? words.photo.tapOn.both : words.photo.tapOn[unsure[0]]}
              </button>
            </div>
          )}
          {tapFailed.value && work.value.kind === 'failed' && <ProblemNote failure={work.value.failure} />}
          <MarkedPhoto preview={preview} marks={reading.marks} />
          <div class="editor-row">
            <button
              type="button"
              onClick={() => {
                before.current = shown;
                edited.value = reading.marks;
              }}
            >
              {words.photo.correct}
            </button>
            <span class="fine">{words.photo.sizes(widthPx, heightPx, format.toUpperCase())}</span>
          </div>
        </>
      ) : (
        <>
          <MarkEditorPart
            preview={preview}
            marks={edited.value}
            onChange={(marks) => {
              edited.value = marks;
              clearTimeout(waiting.current);
              if (areProper(marks)) waiting.current = setTimeout(() => followMarks(marks), FOLLOW_MS);
            }}
          />
          {work.value.kind === 'failed' && <ProblemNote failure={work.value.failure} />}
          {work.value.kind === 'reading' ? (
            <WorkNote />
          ) : (
            <div class="editor-row">
              <button
                type="button"
                class="primary"
                disabled={!areProper(edited.value)}
                onClick={() => edited.value && again(edited.value)}
              >
                {words.photo.readAgain}
              </button>
              <button
                type="button"
                onClick={() => {
                  clearTimeout(waiting.current);
                  edited.value = null;
                  restoreShown(before.current);
                }}
              >
                {words.photo.stop}
              </button>
            </div>
          )}
        </>
      )}
    </section>
  );
};
