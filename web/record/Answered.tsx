import type { ComponentChildren } from 'preact';
import { ProblemNote } from '../parts/ProblemNote.tsx';
import { words } from '../words.ts';
import type { Asked } from './ask.ts';

/** What was asked for once it is here; until then that it is on its way, or why it does not come. */
export const Answered = <T,>({
  asked,
  again,
  children,
}: {
  asked: Asked<T> | null;
  again: () => void;
  children: (value: T) => ComponentChildren;
}) => {
  if (asked === null || asked.kind === 'waiting') return <p role="status">{words.book.loading}</p>;
  if (asked.kind === 'failed')
    return (
      <ProblemNote failure={asked.failure}>
        <button type="button" onClick={again}>
          {words.frame.tryAgain}
        </button>
      </ProblemNote>
    );
  return <>{children(asked.value)}</>;
};
