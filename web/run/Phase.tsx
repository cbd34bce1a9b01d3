import type { words } from '../words.ts';

/** What the printer is to do just now. Each has its word, its shape and its ground. */
export type PhaseName = keyof typeof words.run.phase;

const SHAPES: Readonly<Record<string, string>> = {
  ready: 'M6 4h24v28H6zM12 18l4 5 9-11',
  wait: 'M18 4a14 14 0 1 0 .01 0z',
  soon: 'M18 4 33 31H3z',
  now: 'M3 13h16V4l14 14-14 14v-9H3z',
  dark: 'M6 6h24v24H6z',
  missed: 'M18 2 34 18 18 34 2 18zM18 9v11M18 24v4',
  done: 'M4 19l10 11L33 6',
};

/** Filled shapes call for the hands; lines do not. */
const FILLED: readonly string[] = ['soon', 'now', 'dark'];

export const PhaseSign = ({ phase }: { phase: PhaseName }) => (
  <svg class="phase-sign" width="52" height="52" viewBox="0 0 36 36" aria-hidden="true">
    <path d={SHAPES[phase]} class={FILLED.includes(phase) ? 'filled' : 'lined'} />
  </svg>
);
