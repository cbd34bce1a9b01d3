import type { Signal } from '@preact/signals';
import type { RowKind } from '../../server/contracts/recordUse.ts';
import type { Failure } from '../api.ts';
import { tell } from '../parts/Notice.tsx';
import { words } from '../words.ts';
import { useActing } from './acting.ts';
import { bringBack, putAway } from './recordApi.ts';

/** Puts a row of the book away, with a way back at the foot of the page, or brings it back. */
export const useAway = (
  kind: RowKind,
  again: () => void,
): {
  readonly failure: Signal<Failure | null>;
  readonly swap: (id: string, name: string, isAway: boolean) => Promise<void>;
} => {
  const { failure, act } = useActing();
  const back = (id: string) => act(() => bringBack(kind, id).then(again));
  return {
    failure,
    swap: async (id, name, isAway) => {
      if (isAway) {
        await back(id);
        return;
      }
      const done = await act(() => putAway(kind, id).then(again));
      if (done) tell(words.book.putAwayDone(name), () => back(id));
    },
  };
};
