import { useSignal } from '@preact/signals';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Point, Taps } from '../../server/contracts/marks.ts';
import { words } from '../words.ts';
import { MarkedPhoto } from './MarkedPhoto.tsx';

export type TapPart = 'card' | 'strip';

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** One press of an arrow key moves the cross by this share of the photo's width; with Shift by five times that. */
const KEY_SHARE = 0.01;

/** Asks for a tap on each part that is not sure; a cross moved by arrow keys does the same. */
export const TapPhoto = ({
  preview,
  parts,
  onDone,
  onStop,
}: {
  preview: Preview;
  parts: readonly TapPart[];
  onDone: (taps: Taps) => void;
  onStop: () => void;
}) => {
  const { photoWidthPx, photoHeightPx } = preview;
  const taps = useSignal<Taps>({});
  const cross = useSignal<Point>([photoWidthPx / 2, photoHeightPx / 2]);
  const seen = useSignal(false);
  const part = parts.find((name) => taps.value[name] === undefined);
  const take = (point: Point): void => {
    if (part === undefined) return;
    const next = { ...taps.value, [part]: point };
    taps.value = next;
    if (parts.every((name) => next[name] !== undefined)) onDone(next);
  };
  const place = ([x, y]: Point) => ({
    left: `${(100 * x) / photoWidthPx}%`,
    top: `${(100 * y) / photoHeightPx}%`,
  });
  return (
    <div class="tap-photo">
      <p role="status">
        <strong>{part !== undefined && words.photo.tapOn[part]}</strong>{' '}
        <span class="fine">{words.photo.tapKeys}</span>
      </p>
      <MarkedPhoto preview={preview} marks={null}>
        <button
          type="button"
          class="tap-place"
          aria-label={part === undefined ? words.photo.heading : words.photo.tapOn[part]}
          onFocus={() => {
            seen.value = true;
          }}
          onBlur={() => {
            seen.value = false;
          }}
          onClick={(event) => {
            // A press of Enter or Space comes as a click without a place.
            if (event.detail === 0) {
              take(cross.value);
              return;
            }
            const box = event.currentTarget.getBoundingClientRect();
            take([
              ((event.clientX - box.left) / box.width) * photoWidthPx,
              ((event.clientY - box.top) / box.height) * photoHeightPx,
            ]);
          }}
          onKeyDown={(event) => {
            const arrow = ARROWS[event.key];
            if (!arrow) return;
            event.preventDefault();
            const by = KEY_SHARE * photoWidthPx * (event.shiftKey ? 5 : 1);
            const [x, y] = cross.value;
            cross.value = [
              Math.min(photoWidthPx - 1, Math.max(0, x + by * arrow[0])),
              Math.min(photoHeightPx - 1, Math.max(0, y + by * arrow[1])),
            ];
          }}
        />
        {seen.value && <span class="tap-cross" style={place(cross.value)} aria-hidden="true" />}
        {parts.map((name) => {
          const point = taps.value[name];
          return point && <span key={name} class="tap-dot" style={place(point)} aria-hidden="true" />;
        })}
      </MarkedPhoto>
      <div class="editor-row">
        <button type="button" onClick={onStop}>
          {words.photo.stop}
        </button>
      </div>
    </div>
  );
};
