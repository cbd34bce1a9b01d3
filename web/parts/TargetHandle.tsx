import { useRef } from 'preact/hooks';
import type { PlotFrame } from '../plotFrame.ts';
import { words } from '../words.ts';

export interface TargetHandleProps {
  readonly frame: PlotFrame;
  readonly L: number;
  /** L* of the base and the deepest that the curve comes to. */
  readonly baseL: number;
  readonly deepestL: number;
  readonly valueText: string;
  readonly onMove: (L: number) => void;
}

const KEY_STEPS: Readonly<Record<string, number>> = {
  ArrowUp: 0.5,
  ArrowRight: 0.5,
  ArrowDown: -0.5,
  ArrowLeft: -0.5,
  PageUp: 5,
  PageDown: -5,
};

/** How far down the drawing a pointer is, wherever the page has moved it. */
const heightOf = ({ clientY, currentTarget }: PointerEvent & { currentTarget: HTMLElement }): number =>
  clientY - (currentTarget.parentElement?.getBoundingClientRect().top ?? 0);

/** The grip of the target line: dragged by finger or mouse anywhere along the line, stepped by keys. */
export const TargetHandle = ({ frame, L, baseL, deepestL, valueText, onMove }: TargetHandleProps) => {
  const grabbedAt = useRef<number | null>(null);
  const y = frame.placeL(L);
  const moveTo = (wanted: number): void =>
    onMove(Math.round(10 * Math.min(baseL, Math.max(deepestL, wanted))) / 10);

  const onPointerDown = (event: PointerEvent & { currentTarget: HTMLElement }): void => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    grabbedAt.current = heightOf(event) - y;
  };
  const onPointerMove = (event: PointerEvent & { currentTarget: HTMLElement }): void => {
    if (grabbedAt.current !== null) moveTo(frame.lightnessAtPx(heightOf(event) - grabbedAt.current));
  };
  const letGo = (): void => {
    grabbedAt.current = null;
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    const step = KEY_STEPS[event.key];
    if (step !== undefined) moveTo(L + step);
    else if (event.key === 'Home') moveTo(baseL);
    else if (event.key === 'End') moveTo(deepestL);
    else return;
    event.preventDefault();
  };

  return (
    <div
      class="target-line"
      style={{ top: `${y}px`, left: `${frame.time.leftPx}px` }}
      onPointerDown={onPointerDown}
      onPointerMove={onPointerMove}
      onPointerUp={letGo}
      onPointerCancel={letGo}
    >
      <button
        type="button"
        class="grip"
        role="slider"
        aria-label={words.target.slider}
        aria-orientation="vertical"
        aria-valuemin={Math.round(deepestL * 10) / 10}
        aria-valuemax={Math.round(baseL * 10) / 10}
        aria-valuenow={Math.round(L * 10) / 10}
        aria-valuetext={valueText}
        onKeyDown={onKeyDown}
      >
        <svg width="22" height="28" viewBox="0 0 22 28" aria-hidden="true">
          <path d="M11 2l7 8H4zM11 26l7-8H4z" fill="currentColor" />
          <path d="M3 14h16" stroke="currentColor" stroke-width="2" />
        </svg>
      </button>
    </div>
  );
};
