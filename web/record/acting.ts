import { type Signal, useSignal } from '@preact/signals';
import type { Failure } from '../api.ts';
import { failureOf } from './ask.ts';

/** Something done in the book at the press of a button: what went wrong with the last of it, and a way to do it. */
export const useActing = (): {
  readonly failure: Signal<Failure | null>;
  /** True where it was done. */
  readonly act: (job: () => Promise<unknown>) => Promise<boolean>;
} => {
  const failure = useSignal<Failure | null>(null);
  return {
    failure,
    act: async (job) => {
      try {
        await job();
        failure.value = null;
        return true;
      } catch (error) {
        failure.value = failureOf(error);
        return false;
      }
    },
  };
};
