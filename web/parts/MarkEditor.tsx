import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks, Point, Quad } from '../../server/contracts/marks.ts';
import {
  areProper,
  type Chosen,
  nudged,
  quadOf,
  stepLine,
  withCardTurned,
  withLineMoved,
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

/** How much the lens enlarges, over the photo as it is shown. */
const LENS_TIMES = 3;
const LENS_PX = 132;

/** What lies under the finger, enlarged beside it: the photo and the marks, with a cross at the very point. */
const Lens = ({
  preview,
  marks,
  at: [x, y],
  perPx,
}: {
  preview: Preview;
  marks: Marks;
  at: Point;
  perPx: number;
}) => {
  const { href, photoWidthPx, photoHeightPx } = preview;
  const side = (LENS_PX / LENS_TIMES) * perPx;
  const toLeft = x > photoWidthPx / 2;
  const cross = side / 6;
  return (
    <svg
      class={toLeft ? 'lens' : 'lens right'}
      viewBox={`${x - side / 2} ${y - side / 2} ${side} ${side}`}
      width={LENS_PX}
      height={LENS_PX}
      aria-hidden="true"
    >
      <image href={href} width={photoWidthPx} height={photoHeightPx} preserveAspectRatio="none" />
      {[...marks.card, ...marks.steps].map(({ quad }, i) => (
        <polygon key={i} points={quad.map((point) => point.join(',')).join(' ')} class="lens-area" />
      ))}
      <path d={`M${x - cross} ${y}H${x + cross}M${x} ${y - cross}V${y + cross}`} class="lens-cross under" />
      <path d={`M${x - cross} ${y}H${x + cross}M${x} ${y - cross}V${y + cross}`} class="lens-cross" />
    </svg>
  );
};

/** What lies beside the card: a strip in steps, or one sheet. */
export type MarkSubject = 'strip' | 'sheet';

const nameOf = (chosen: Chosen, marks: Marks, subject: MarkSubject): string => {
  switch (chosen.kind) {
    case 'strip':
      return words.photo.wholeStrip;
    case 'card':
      return words.photo.wholeCard;
    case 'step':
      if (subject === 'sheet') return words.evenness.sheet;
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
  subject = 'strip',
  beneath,
  onChange,
}: {
  preview: Preview;
  marks: Marks;
  subject?: MarkSubject;
  /** Stands right beneath the photo, in sight while a hand moves something. */
  beneath?: ComponentChildren;
  onChange: (marks: Marks) => void;
}) => {
  const { photoWidthPx, photoHeightPx } = preview;
  const chosen = useSignal<Chosen>(subject === 'sheet' ? { kind: 'step', index: 0 } : { kind: 'strip' });
  const pull = useSignal<Pull | null>(null);
  /** The point that is being moved, for the lens. */
  const under = useSignal<Point | null>(null);
  const heldLine = useRef<{ index: number; x: number; y: number; marks: Marks } | null>(null);
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
    const name = nameOf(chosen.value, marks, subject);
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
          const by: Point = [(event.clientX - from.x) * perPx, (event.clientY - from.y) * perPx];
          moveBy(corner, from.quad, by);
          if (corner !== null)
            under.value = nudged(from.quad, corner, by, photoWidthPx, photoHeightPx)[corner];
        }}
        onPointerUp={() => {
          grabbed.current = null;
          under.value = null;
        }}
        onPointerCancel={() => {
          grabbed.current = null;
          under.value = null;
        }}
        onBlur={() => {
          under.value = null;
        }}
        onKeyDown={(event) => {
          const arrow = ARROWS[event.key];
          if (!arrow) return;
          event.preventDefault();
          const px = perPx * (event.shiftKey ? 10 : 1);
          const by: Point = [arrow[0] * px, arrow[1] * px];
          moveBy(corner, current.to, by);
          if (corner !== null)
            under.value = nudged(current.to, corner, by, photoWidthPx, photoHeightPx)[corner];
        }}
      />
    );
  };

  /** A grip on the line between two steps; it moves along the strip alone, and only its two steps change. */
  const lineHandle = (index: number) => {
    const line = stepLine(marks, index);
    if (!line) return null;
    const [[ax, ay], [bx, by]] = line.ends;
    const [x, y] = [(ax + bx) / 2, (ay + by) / 2];
    const [ux, uy] = line.along;
    const name = words.photo.stepLine(index + 1, index + 2);
    const moveLine = (from: Marks, byPx: number): void => {
      const moved = withLineMoved(from, index, byPx);
      pull.value = null;
      onChange(moved);
      const now = stepLine(moved, index);
      if (now) under.value = [(now.ends[0][0] + now.ends[1][0]) / 2, (now.ends[0][1] + now.ends[1][1]) / 2];
    };
    const letGo = (): void => {
      heldLine.current = null;
      under.value = null;
    };
    return (
      <button
        key={`line ${index}`}
        type="button"
        class="handle line-handle"
        aria-label={name}
        style={{ left: `${(100 * x) / photoWidthPx}%`, top: `${(100 * y) / photoHeightPx}%` }}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          event.currentTarget.setPointerCapture(event.pointerId);
          heldLine.current = { index, x: event.clientX, y: event.clientY, marks };
        }}
        onPointerMove={(event) => {
          const held = heldLine.current;
          if (held?.index !== index) return;
          moveLine(held.marks, ((event.clientX - held.x) * ux + (event.clientY - held.y) * uy) * perPx);
        }}
        onPointerUp={letGo}
        onPointerCancel={letGo}
        onBlur={letGo}
        onKeyDown={(event) => {
          const arrow = ARROWS[event.key];
          if (!arrow) return;
          event.preventDefault();
          const px = perPx * (event.shiftKey ? 10 : 1);
          moveLine(marks, (arrow[0] * ux + arrow[1] * uy) * px);
        }}
      />
    );
  };

  const areas = marks.steps.map((_, index): Chosen => ({ kind: 'step', index }));
  const choices: readonly Chosen[] = [
    ...(subject === 'sheet' ? areas : [{ kind: 'strip' } as const]),
    ...(marks.card.length > 0 ? [{ kind: 'card' } as const] : []),
    ...(subject === 'sheet' ? [] : areas),
    ...marks.card.map((_, index): Chosen => ({ kind: 'patch', index })),
  ];

  return (
    <div class="mark-editor">
      <p class="fine">{subject === 'sheet' ? words.evenness.help : words.photo.help}</p>
      <MarkedPhoto
        preview={preview}
        marks={marks}
        chosen={chosen.value}
        subject={subject}
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
        {chosen.value.kind === 'strip' && marks.steps.slice(1).map((_, i) => lineHandle(i))}
        {under.value && <Lens preview={preview} marks={marks} at={under.value} perPx={perPx} />}
      </MarkedPhoto>
      {beneath}
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
                {nameOf(choice, marks, subject)}
              </option>
            ))}
          </select>
        </label>
        {subject === 'strip' && (
          <button type="button" class="quiet" onClick={() => turn(withStepsTurned(marks))}>
            {words.photo.turnStrip}
          </button>
        )}
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
