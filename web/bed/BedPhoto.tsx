import { type Signal, useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { type Failure, sendForPreview } from '../api.ts';
import { MarkEditor } from '../parts/MarkEditor.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { failureOf } from '../record/ask.ts';
import { words } from '../words.ts';
import { type BedShot, firstBedMarks, withPatches, withTopTurned } from './bedDraft.ts';

/** One photo of the sheet: chosen, then marked by hand. */
export const BedPhoto = ({
  shot,
  turned,
  patchNames,
}: {
  shot: Signal<BedShot | null>;
  turned: boolean;
  patchNames: readonly string[];
}) => {
  const failure = useSignal<Failure | null>(null);
  const opening = useSignal(false);
  const newest = useRef(0);
  const said = words.evenness;
  const now = shot.value;
  const open = async (file: File): Promise<void> => {
    newest.current += 1;
    const mine = newest.current;
    opening.value = true;
    failure.value = null;
    try {
      const { preview } = await sendForPreview(file, new AbortController().signal);
      if (mine === newest.current)
        shot.value = {
          file,
          name: file.name,
          preview,
          marks: firstBedMarks(preview, patchNames, turned),
        };
    } catch (error) {
      if (mine === newest.current) failure.value = failureOf(error);
    } finally {
      if (mine === newest.current) opening.value = false;
    }
  };
  const pick = now ? words.form.replace : turned ? said.chooseTurned : words.form.choose;
  return (
    <div class="bed-photo">
      {opening.value && (
        <p role="status" class="work">
          <progress aria-label={words.form.opening} />
          {words.form.opening}
        </p>
      )}
      {failure.value && <ProblemNote failure={failure.value} />}
      {now && !opening.value && (
        <>
          <MarkEditor
            subject="sheet"
            preview={now.preview}
            marks={withPatches(now, patchNames)}
            onChange={(marks) => {
              shot.value = { ...now, marks };
            }}
          />
          <div class="editor-row">
            <button
              type="button"
              class="quiet"
              onClick={() => {
                shot.value = { ...now, marks: withTopTurned(withPatches(now, patchNames)) };
              }}
            >
              {said.nextCorner}
            </button>
            {turned && (
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  shot.value = null;
                }}
              >
                {said.withoutTurned}
              </button>
            )}
          </div>
        </>
      )}
      <label class={now || turned ? 'pick' : 'pick primary'}>
        {pick}
        <input
          type="file"
          accept="image/*,.heic,.heif,.avif,.tif,.tiff"
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            if (file) open(file);
            event.currentTarget.value = '';
          }}
        />
      </label>
    </div>
  );
};
