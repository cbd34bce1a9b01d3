import type { Marks } from '../../server/contracts/marks.ts';
import { describedStrip, draft, type FurtherDraft } from '../draft.ts';
import { addFurther, addingFurther, MOST_FURTHER } from '../furtherPhotos.ts';
import { words } from '../words.ts';
import { HandPlaced, handMarksFor } from './HandPlaced.tsx';
import { tell } from './Notice.tsx';
import { ProblemNote } from './ProblemNote.tsx';

/** One further photo: seen small, with a way to place its marks by hand and to leave it out. */
const Further = ({ photo, index }: { photo: FurtherDraft; index: number }) => {
  const number = index + 2;
  const change = (marks: Marks | null): void => {
    draft.also.value = draft.also.value.map((one) => (one.file === photo.file ? { ...one, marks } : one));
  };
  return (
    <li class="further-photo">
      <p class="further-head">
        <span>{words.form.further(number, photo.name)}</span>
        <button
          type="button"
          class="quiet"
          aria-label={words.form.removeFurther(number)}
          onClick={() => {
            const all = draft.also.value;
            draft.also.value = all.filter(({ file }) => file !== photo.file);
            tell(words.form.furtherGone(number), () => {
              draft.also.value = all;
            });
          }}
        >
          ×
        </button>
      </p>
      <HandPlaced photo={photo} marks={photo.marks} onChange={change} />
      {photo.marks === null && (
        <button
          type="button"
          class="quiet"
          disabled={describedStrip() === null}
          onClick={() => change(handMarksFor(photo.preview))}
        >
          {words.photo.placeByHand}
        </button>
      )}
      {photo.marks !== null && (
        <button
          type="button"
          class="quiet"
          onClick={() => {
            const { marks } = photo;
            change(null);
            tell(words.form.marksGone, () => change(marks));
          }}
        >
          {words.form.marksForget}
        </button>
      )}
    </li>
  );
};

/** More photos of the same strip: what they agree on is surer, and a slant of light cancels in a turned one. */
export const FurtherPhotos = () => {
  const { opening, failure } = addingFurther.value;
  const photos = draft.also.value;
  return (
    <div class="further-photos">
      {photos.length > 0 && (
        <ul class="further-list">
          {photos.map((photo, i) => (
            <Further key={i} photo={photo} index={i} />
          ))}
        </ul>
      )}
      {opening > 0 && (
        <p role="status" class="work">
          <progress aria-label={words.form.opening} />
          {words.form.opening}
        </p>
      )}
      {failure && <ProblemNote failure={failure} entered />}
      {photos.length < MOST_FURTHER && opening === 0 && (
        <label class="pick">
          {words.form.addFurther}
          <input
            type="file"
            accept="image/*,.heic,.heif,.avif,.tif,.tiff"
            multiple
            onChange={(event) => {
              for (const file of event.currentTarget.files ?? []) addFurther(file);
              event.currentTarget.value = '';
            }}
          />
        </label>
      )}
      <p class="fine">{words.form.furtherNote}</p>
    </div>
  );
};
