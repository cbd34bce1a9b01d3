import { describedStrip, draft } from '../draft.ts';
import { formatNumber } from '../numbers.ts';
import { UsePhonePart } from '../phone/lazyPhone.tsx';
import { visitor } from '../phone/visitor.ts';
import { choosePhoto, work } from '../session.ts';
import { words } from '../words.ts';
import { FurtherPhotos } from './FurtherPhotos.tsx';
import { HandPlaced, handMarksFor } from './HandPlaced.tsx';
import { tell } from './Notice.tsx';

const ACCEPTED = 'image/*,.heic,.heif,.avif,.tif,.tiff';

const Picker = ({ label, camera, primary }: { label: string; camera: boolean; primary: boolean }) => (
  <label class={primary ? 'pick primary' : 'pick'}>
    {label}
    <input
      type="file"
      accept={ACCEPTED}
      {...(camera && { capture: 'environment' })}
      onChange={(event) => {
        const [file] = event.currentTarget.files ?? [];
        if (file) choosePhoto(file);
        event.currentTarget.value = '';
      }}
    />
  </label>
);

/** Begins to place marks by hand: strip and card as two bands to be pulled into place. */
export const placeByHand = (): void => {
  const preview = draft.photo.value?.preview;
  if (preview) draft.marks.value = handMarksFor(preview);
};

/** Choose, take or drop the photo; then see it, and if need be say where strip and card are. */
export const PhotoField = () => {
  const photo = draft.photo.value;
  const opening = work.value.kind === 'opening-photo';
  const marks = draft.marks.value;
  return (
    <fieldset class="block photo-field">
      <legend>{words.form.photo}</legend>
      {opening && (
        <p role="status" class="work">
          <progress aria-label={words.form.opening} />
          {words.form.opening}
        </p>
      )}
      {photo && !opening && (
        <>
          <HandPlaced
            photo={photo}
            marks={marks}
            onChange={(next) => {
              draft.marks.value = next;
            }}
          />
          <p class="fine">
            {words.form.ready(
              photo.name,
              `${formatNumber(photo.preview.photoWidthPx, 0)} × ${formatNumber(photo.preview.photoHeightPx, 0)} px`,
            )}
          </p>
          <div class="editor-row">
            {marks ? (
              <button
                type="button"
                class="quiet"
                onClick={() => {
                  const { file } = photo;
                  draft.marks.value = null;
                  tell(words.form.marksGone, () => {
                    if (draft.photo.value?.file === file) draft.marks.value = marks;
                  });
                }}
              >
                {words.form.marksForget}
              </button>
            ) : (
              <button type="button" class="quiet" disabled={describedStrip() === null} onClick={placeByHand}>
                {words.photo.placeByHand}
              </button>
            )}
          </div>
        </>
      )}
      <div class={photo || opening ? 'pickers' : 'pickers drop-zone'}>
        <Picker label={photo ? words.form.replace : words.form.choose} camera={false} primary={!photo} />
        <Picker label={words.form.take} camera={true} primary={false} />
        {!photo && <p class="fine">{words.form.drop}</p>}
      </div>
      {visitor.value?.visitor === 'computer' && <UsePhonePart />}
      {photo && <FurtherPhotos />}
      {draft.tried.value && !photo && (
        <p class="field-problem" role="alert">
          {words.form.noPhoto}
        </p>
      )}
      <p class="fine">{words.form.photoTips}</p>
    </fieldset>
  );
};
