import { draft } from '../draft.ts';
import { words } from '../words.ts';

const MOST = 7;

/** More photos of the same strip: what they agree on is surer, and a slant of light cancels in a turned one. */
export const FurtherPhotos = () => {
  const photos = draft.also.value;
  return (
    <div class="further-photos">
      {photos.length > 0 && (
        <ul class="plain-list">
          {photos.map(({ name }, i) => (
            <li key={i} class="further-photo">
              <span>{words.form.further(i + 2, name)}</span>
              <button
                type="button"
                class="quiet"
                aria-label={words.form.removeFurther(i + 2)}
                onClick={() => {
                  draft.also.value = photos.filter((_, other) => other !== i);
                }}
              >
                ×
              </button>
            </li>
          ))}
        </ul>
      )}
      {photos.length < MOST && (
        <label class="pick">
          {words.form.addFurther}
          <input
            type="file"
            accept="image/*,.heic,.heif,.avif,.tif,.tiff"
            onChange={(event) => {
              const [file] = event.currentTarget.files ?? [];
              if (file) draft.also.value = [...photos, { file, name: file.name }];
              event.currentTarget.value = '';
            }}
          />
        </label>
      )}
      <p class="fine">{words.form.furtherNote}</p>
    </div>
  );
};
