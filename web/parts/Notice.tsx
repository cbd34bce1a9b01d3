import { signal } from '@preact/signals';
import { words } from '../words.ts';

interface NoticeText {
  readonly text: string;
  readonly undo: (() => void) | null;
}

const notice = signal<NoticeText | null>(null);
let ending: ReturnType<typeof setTimeout> | undefined;

const SHOWN_MS = 12_000;

/** Says what was done, with a way back where there is one. */
export const tell = (text: string, undo: (() => void) | null = null): void => {
  notice.value = { text, undo };
  clearTimeout(ending);
  ending = setTimeout(() => {
    notice.value = null;
  }, SHOWN_MS);
};

/** What was just done, for a few seconds, at the foot of the page. */
export const Notice = () => (
  <div class="notice-place" role="status">
    {notice.value && (
      <p class="notice">
        <span>{notice.value.text}</span>
        {notice.value.undo && (
          <button
            type="button"
            onClick={() => {
              notice.value?.undo?.();
              notice.value = null;
            }}
          >
            {words.frame.undo}
          </button>
        )}
      </p>
    )}
  </div>
);
