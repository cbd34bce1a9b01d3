import type { PhaseName } from './Phase.tsx';
import type { Run, RunStatus } from './runLog.ts';

const SOON_SECONDS = 10;
/** How long a move that was just announced stays on show, where it counts as made. */
const NOW_SECONDS = 8;

/** What is on show: the phase, the move that it is about, and the seconds until that is due. */
export interface ShownPhase {
  readonly phase: PhaseName;
  readonly move: number | null;
  readonly untilSeconds: number | null;
}

export const phaseOf = ({ plan }: Run, status: RunStatus): ShownPhase => {
  const { moves, lampSeconds, next } = status;
  if (status.phase === 'done' || next === null) return { phase: 'done', move: null, untilSeconds: null };
  if (status.phase === 'ready') return { phase: 'ready', move: 0, untilSeconds: null };
  const until = Math.max(0, moves[next].dueSeconds - lampSeconds);
  if (moves[next].state === 'missed') return { phase: 'missed', move: next, untilSeconds: null };
  if (moves[next].state === 'told') return { phase: 'now', move: next, untilSeconds: null };
  const before = moves[next - 1];
  const justTold =
    next > 1 &&
    before.by === 'announcement' &&
    lampSeconds - before.dueSeconds < Math.min(NOW_SECONDS, until);
  if (status.phase === 'dark')
    return plan.stopsAtMoves &&
      next > 1 &&
      before.by === 'announcement' &&
      lampSeconds - before.dueSeconds < 0.2
      ? { phase: 'now', move: next - 1, untilSeconds: until }
      : { phase: 'dark', move: next, untilSeconds: until };
  if (justTold) return { phase: 'now', move: next - 1, untilSeconds: until };
  return { phase: until <= SOON_SECONDS ? 'soon' : 'wait', move: next, untilSeconds: until };
};
