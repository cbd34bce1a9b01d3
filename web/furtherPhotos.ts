import { signal } from '@preact/signals';
import { type Failure, sendForPreview } from './api.ts';
import { draft } from './draft.ts';
import { failureOf } from './record/ask.ts';
import { learnKey, sourceOf } from './stripPhotos.ts';

/** Most further photos beside the first. */
export const MOST_FURTHER = 7;

/** Further photos that are on their way into the draft, and what stood against the last. */
export const addingFurther = signal<{ readonly opening: number; readonly failure: Failure | null }>({
  opening: 0,
  failure: null,
});

const opening = (by: 1 | -1, failure: Failure | null): void => {
  addingFurther.value = { opening: addingFurther.value.opening + by, failure };
};

/** Adds a photo to those of the strip in the draft, once the server could open it. */
export const addFurther = async (file: File): Promise<void> => {
  const first = draft.photo.value;
  opening(1, null);
  try {
    const { preview } = await sendForPreview(file, new AbortController().signal);
    learnKey(sourceOf(file), preview.photoKey);
    const { value } = draft.also;
    // Another first photo begins another strip.
    if (draft.photo.value === first && value.length < MOST_FURTHER)
      draft.also.value = [...value, { file, name: file.name, preview, marks: null }];
    opening(-1, addingFurther.value.failure);
  } catch (error) {
    opening(-1, failureOf(error));
  }
};
