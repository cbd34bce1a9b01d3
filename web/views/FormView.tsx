import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { describedStrip, draft, hasEntered, keepDraft } from '../draft.ts';
import { areProper } from '../handMarks.ts';
import { CardField } from '../parts/CardField.tsx';
import { NamesField } from '../parts/NamesField.tsx';
import { PhotoField, placeByHand } from '../parts/PhotoField.tsx';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { type TapPart, TapPhoto } from '../parts/TapPhoto.tsx';
import { TimesField } from '../parts/TimesField.tsx';
import { WorkNote } from '../parts/WorkNote.tsx';
import { SendPhotoPart } from '../phone/lazyPhone.tsx';
import { visitor } from '../phone/visitor.ts';
import { readDraft, work } from '../session.ts';
import { words } from '../words.ts';

/** Failures that placing the marks by hand can get round. */
const HAND_HELPS: readonly string[] = [
  'strip-not-found',
  'card-not-found',
  'marks-invalid',
  'marks-outside-photo',
  'marks-too-small',
];

const TAPPED: readonly TapPart[] = ['card', 'strip'];

/** Everything it takes to read a strip, on one page. */
export const FormView = () => {
  const form = useRef<HTMLFormElement>(null);
  const now = work.value;
  const canHelp =
    now.kind === 'failed' && HAND_HELPS.includes(now.failure.code) && draft.marks.value === null;
  const tapping = useSignal(false);
  const marksFit = [draft.marks.value, ...draft.also.value.map(({ marks }) => marks)].every(
    (marks) => marks === null || areProper(marks),
  );
  return (
    <main class="form-view" id="main" tabIndex={-1}>
      {visitor.value?.visitor === 'phone' && <SendPhotoPart />}
      <h1>{words.form.heading}</h1>
      <form
        noValidate
        ref={form}
        onInput={keepDraft}
        onChange={keepDraft}
        onSubmit={(event) => {
          event.preventDefault();
          const ready = draft.photo.value !== null && describedStrip() !== null && marksFit;
          draft.tried.value = !ready;
          if (ready) readDraft();
          else
            requestAnimationFrame(() =>
              form.current?.querySelector('.field-problem')?.scrollIntoView({ block: 'center' }),
            );
        }}
      >
        {now.kind === 'failed' && (
          <ProblemNote failure={now.failure} entered={hasEntered()}>
            {draft.also.value.length > 0 && HAND_HELPS.includes(now.failure.code) && (
              <p>{words.form.oneOf(draft.also.value.length + 1)}</p>
            )}
            {canHelp && (
              <button
                type="button"
                onClick={() => {
                  tapping.value = true;
                  work.value = { kind: 'idle' };
                }}
              >
                {words.photo.tapOn.both}
              </button>
            )}
            {canHelp && (
              <button
                type="button"
                onClick={() => {
                  placeByHand();
                  work.value = { kind: 'idle' };
                }}
              >
                {words.photo.placeByHand}
              </button>
            )}
          </ProblemNote>
        )}
        {tapping.value && draft.photo.value ? (
          <TapPhoto
            preview={draft.photo.value.preview}
            parts={TAPPED}
            onDone={(taps) => {
              tapping.value = false;
              readDraft(taps);
            }}
            onStop={() => {
              tapping.value = false;
            }}
          />
        ) : (
          <PhotoField />
        )}
        <div class="form-facts">
          <CardField />
          <TimesField />
          <NamesField />
        </div>
        <div class="form-end">
          {now.kind === 'reading' ? (
            <WorkNote />
          ) : (
            <button type="submit" class="primary" disabled={now.kind === 'opening-photo'}>
              {words.form.read}
            </button>
          )}
        </div>
      </form>
    </main>
  );
};
