import { useSignal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks, Point, Quad } from '../../server/contracts/marks.ts';
import {
  areProper,
  type Chosen,
  nudged,
  quadOf,
  withCardTurned,
  withQuad,
  withStepsTurned,
} from '../handMarks.ts';
import { centreOf } from '../quads.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';
import { MarkedPhoto } from './MarkedPhoto.tsx';
import { useWidth } from './useWidth.ts';

/** Handles stand this far outside their corner, so that a finger does not cover what it moves. */
const HANDLE_REACH_PX = 30;

/** Handles may stand over the photo's edge by as much as the page has margin. */
const HANDLE_INSET_PX = 10;

/** Keeps a handle on the photo, where a finger finds it. */
const within = (value: number, most: number, inset: number): number =>
  Math.min(most - inset, Math.max(inset, value));

const ARROWS: Readonly<Record<string, Point>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** A pull under way: the marks and the quad that it began with, and the quad as pulled so far. */
interface Pull {
  readonly marks: Marks;
  readonly from: Quad;
  readonly to: Quad;
}

const nameOf = (chosen: Chosen, marks: Marks): string => {
  switch (chosen.kind) {
    case 'strip':
      return words.photo.wholeStrip;
    case 'card':
      return words.photo.wholeCard;
    case 'step':
      return words.photo.step(chosen.index + 1, formatTime(marks.steps[chosen.index].seconds));
    case 'patch':
      return words.photo.patch(marks.card[chosen.index].name);
  }
};

const keyOf = (chosen: Chosen): string =>
  'index' in chosen ? `${chosen.kind} ${chosen.index}` : chosen.kind;

/** Lets a person say where card and steps are: by finger, mouse or keys, all at once or one by one. */
export const MarkEditor = ({
  preview,
  marks,
  onChange,
}: {
  preview: Preview;
  marks: Marks;
  onChange: (marks: Marks) => void;
}) => {
  const { photoWidthPx, photoHeightPx } = preview;
  const chosen = useSignal<Chosen>({ kind: 'strip' });
  const pull = useSignal<Pull | null>(null);
  const grabbed = useRef<{ corner: number | null; x: number; y: number; quad: Quad } | null>(null);
  const [frameRef, widthPx] = useWidth<HTMLDivElement>();
  const perPx = widthPx > 0 ? photoWidthPx / widthPx : 1;

  const current = pull.value ?? {
    marks,
    from: quadOf(marks, chosen.value),
    to: quadOf(marks, chosen.value),
  };
  const choose = (next: Chosen): void => {
    chosen.value = next;
    pull.value = null;
  };
  const pullTo = (to: Quad): void => {
    pull.value = { ...current, to };
    onChange(withQuad(current.marks, chosen.value, current.from, to));
  };
  const moveBy = (corner: number | null, quad: Quad, by: Point): void =>
    pullTo(nudged(quad, corner, by, photoWidthPx, photoHeightPx));
  const turn = (turned: Marks): void => {
    pull.value = null;
    onChange(turned);
  };

  const handle = (corner: number | null) => {
    const [cx, cy] = centreOf(current.to);
    const [x, y] = corner === null ? [cx, cy] : current.to[corner];
    const away = Math.hypot(x - cx, y - cy) || 1;
    const reach = corner === null ? 0 : HANDLE_REACH_PX * perPx;
    const left = within(x + ((x - cx) / away) * reach, photoWidthPx, HANDLE_INSET_PX * perPx);
    const top = within(y + ((y - cy) / away) * reach, photoHeightPx, HANDLE_INSET_PX * perPx);
    const name = nameOf(chosen.value, marks);
    return (
      <button
        key={corner ?? 'middle'}
        type="button"
        class={corner === null ? 'handle middle' : 'handle'}
        aria-label={corner === null ? words.photo.middle(name) : words.photo.corner(corner + 1, name)}
        style={{ left: `${(100 * left) / photoWidthPx}%`, top: `${(100 * top) / photoHeightPx}%` }}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          event.currentTarget.setPointerCapture(event.pointerId);
          grabbed.current = { corner, x: event.clientX, y: event.clientY, quad: current.to };
        }}
        onPointerMove={(event) => {
          const from = grabbed.current;
          if (from?.corner !== corner || !from) return;
          moveBy(corner, from.quad, [(event.clientX - from.x) * perPx, (event.clientY - from.y) * perPx]);
        }}
        onPointerUp={() => {
          grabbed.current = null;
        }}
        onPointerCancel={() => {
          grabbed.current = null;
        }}
        onKeyDown={(event) => {
          const arrow = ARROWS[event.key];
          if (!arrow) return;
          event.preventDefault();
          const px = perPx * (event.shiftKey ? 10 : 1);
          moveBy(corner, current.to, [arrow[0] * px, arrow[1] * px]);
        }}
      />
    );
  };

  const choices: readonly Chosen[] = [
    { kind: 'strip' },
    { kind: 'card' },
    ...marks.steps.map((_, index): Chosen => ({ kind: 'step', index })),
    ...marks.card.map((_, index): Chosen => ({ kind: 'patch', index })),
  ];

  return (
    <div class="mark-editor">
      <p class="fine">{words.photo.help}</p>
      <MarkedPhoto
        preview={preview}
        marks={marks}
        chosen={chosen.value}
        onChoose={choose}
        frameRef={frameRef}
      >
        <svg
          class="leaders"
          viewBox={`0 0 ${photoWidthPx} ${photoHeightPx}`}
          preserveAspectRatio="none"
          aria-hidden="true"
        >
          <polygon points={current.to.map(([x, y]) => `${x},${y}`).join(' ')} />
        </svg>
        {[0, 1, 2, 3].map(handle)}
        {handle(null)}
      </MarkedPhoto>
      <div class="editor-row">
        <label class="field">
          <span>{words.photo.choose}</span>
          <select
            value={keyOf(chosen.value)}
            onChange={(event) => {
              const next = choices.find((choice) => keyOf(choice) === event.currentTarget.value);
              if (next) choose(next);
            }}
          >
            {choices.map((choice) => (
              <option key={keyOf(choice)} value={keyOf(choice)}>
                {nameOf(choice, marks)}
              </option>
            ))}
          </select>
        </label>
        <button type="button" class="quiet" onClick={() => turn(withStepsTurned(marks))}>
          {words.photo.turnStrip}
        </button>
        {marks.card.length > 1 && (
          <button type="button" class="quiet" onClick={() => turn(withCardTurned(marks))}>
            {words.photo.turnCard}
          </button>
        )}
      </div>
      {!areProper(marks) && (
        <p class="field-problem" role="alert">
          {words.photo.crossed}
        </p>
      )}
    </div>
  );
};
