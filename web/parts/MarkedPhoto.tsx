import type { ComponentChildren, RefObject } from 'preact';
import type { Preview } from '../../server/contracts/answers.ts';
import type { Marks, Point, Quad } from '../../server/contracts/marks.ts';
import type { Chosen } from '../handMarks.ts';
import { centreOf, pointWithin } from '../quads.ts';
import { words } from '../words.ts';

const pointsOf = (quad: Quad): string => quad.map(([x, y]) => `${x},${y}`).join(' ');

/** A place inside the quad beside its first corner. */
const cornerLabel = (quad: Quad): Point => pointWithin(quad, 0.16, 0.1);

export interface MarkedPhotoProps {
  readonly preview: Preview;
  readonly marks: Marks | null;
  /** Where given, a tap on an area chooses it. */
  readonly onChoose?: (chosen: Chosen) => void;
  readonly chosen?: Chosen;
  /** A sheet shows where its top left lies, steps their numbers. */
  readonly subject?: 'strip' | 'sheet';
  readonly frameRef?: RefObject<HTMLDivElement | null>;
  readonly children?: ComponentChildren;
}

/** The photo with card patches and numbered steps drawn over it, in black and white so as not to tint anything. */
export const MarkedPhoto = ({
  preview,
  marks,
  onChoose,
  chosen,
  subject = 'strip',
  frameRef,
  children,
}: MarkedPhotoProps) => {
  const { photoWidthPx, photoHeightPx } = preview;
  const isChosen = (kind: 'step' | 'patch', index: number): boolean =>
    chosen?.kind === (kind === 'step' ? 'strip' : 'card') ||
    (chosen?.kind === kind && chosen.index === index);
  const areas = marks
    ? [
        ...marks.card.map((patch, index) => ({ kind: 'patch' as const, index, quad: patch.quad })),
        ...marks.steps.map((step, index) => ({ kind: 'step' as const, index, quad: step.quad })),
      ]
    : [];
  return (
    <div class="marked-photo" ref={frameRef ?? null}>
      <img
        src={preview.href}
        alt={subject === 'sheet' ? words.evenness.alt : words.photo.alt}
        width={photoWidthPx}
        height={photoHeightPx}
      />
      <svg viewBox={`0 0 ${photoWidthPx} ${photoHeightPx}`} preserveAspectRatio="none" aria-hidden="true">
        {areas.map(({ kind, index, quad }) => (
          // biome-ignore lint/a11y/noStaticElementInteractions: a shortcut for pointers; the list of areas beneath does the same by key
          <g
            key={`${kind}${index}`}
            class={isChosen(kind, index) ? 'area chosen' : 'area'}
            onClick={onChoose && (() => onChoose({ kind, index }))}
          >
            <polygon points={pointsOf(quad)} class="area-under" />
            <polygon points={pointsOf(quad)} class={kind === 'patch' ? 'area-over patch' : 'area-over'} />
          </g>
        ))}
      </svg>
      {areas.map(({ kind, index, quad }) => {
        if (kind === 'patch') return null;
        const [x, y] = subject === 'sheet' ? cornerLabel(quad) : centreOf(quad);
        return (
          <span
            key={index}
            class="area-number"
            aria-hidden="true"
            style={{ left: `${(100 * x) / photoWidthPx}%`, top: `${(100 * y) / photoHeightPx}%` }}
          >
            {subject === 'sheet' ? words.evenness.topLeft : index + 1}
          </span>
        );
      })}
      {children}
    </div>
  );
};
