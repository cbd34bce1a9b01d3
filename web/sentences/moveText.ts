import type { Layout, Move } from '../../analysis/plan/covers.ts';
import { formatTime } from '../times.ts';
import { words } from '../words.ts';

/** What it takes of a plan to say its moves. */
export interface MovedPlan {
  readonly layout: Layout;
  readonly moves: readonly Pick<Move, 'atSeconds' | 'action' | 'step'>[];
  readonly steps: readonly { readonly step: number; readonly seconds: number }[];
}

/** One move of a plan as a sentence, in the language that is spoken. */
export const moveText = ({ layout, moves, steps }: MovedPlan, index: number): string => {
  const { action, step } = moves[index];
  const says = words.moves;
  const base = steps.some(({ seconds }) => seconds === 0);
  const last = Math.max(...steps.map((one) => one.step));
  const uncovering = layout.kind === 'strip' && layout.direction === 'uncovering';
  switch (action) {
    case 'lamp-on':
      if (layout.kind === 'scraps')
        return layout.exposed === 'together' ? says.onTogether(base) : says.onInTurn;
      return uncovering ? says.onUncovering(step ?? last) : says.onCovering(base);
    case 'cover':
      return says.cover(step ?? 0);
    case 'uncover':
      return says.uncover(step ?? 0);
    case 'take-out':
      return says.takeOut(step ?? 0);
    case 'change-scrap':
      return says.change(step ?? 0, formatTime(steps.find((one) => one.step === step)?.seconds ?? 0));
    case 'lamp-off':
      if (layout.kind === 'scraps') return says.offScrap(step ?? last);
      return uncovering ? says.offUncovering(base) : says.offCovering(step ?? last);
  }
};
