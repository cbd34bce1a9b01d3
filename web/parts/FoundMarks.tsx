import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Marks } from '../../server/contracts/marks.ts';
import { areProper } from '../handMarks.ts';
import { followMarks, readAgain, restoreShown, type Shown, work } from '../session.ts';
import { words } from '../words.ts';
import { MarkEditor } from './MarkEditor.tsx';
import { MarkedPhoto } from './MarkedPhoto.tsx';
import { ProblemNote } from './ProblemNote.tsx';
import { WorkNote } from './WorkNote.tsx';

/** The reading follows when the hand has rested for so long. */
const FOLLOW_MS = 250;

/** The photo with what was read drawn over it; on request, with handles to put it right. */
export const FoundMarks = ({ shown }: { shown: Shown }) => {
  const edited = useSignal<Marks | null>(null);
  const before = useRef<Shown>(shown);
  const waiting = useRef<ReturnType<typeof setTimeout>>(undefined);
  const { reading, preview } = shown;
  const { widthPx, heightPx, format } = reading.photo;
  const again = async (marks: Marks): Promise<void> => {
    clearTimeout(waiting.current);
    if (await readAgain(marks)) edited.value = null;
  };
  return (
    <section class="found" aria-labelledby="found-heading">
      <h2 id="found-heading">{words.photo.heading}</h2>
      {shown.demo && (
        <p class="fine" lang="en">
          {shown.demo.story}
        </p>
      )}
      {edited.value === null ? (
        <>
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
          <MarkEditor
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
