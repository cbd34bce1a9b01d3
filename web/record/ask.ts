import { type Signal, signal } from '@preact/signals';
import { Failure } from '../api.ts';

/** Something asked of the server: on its way, there, or refused. */
export type Asked<T> =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'here'; readonly value: T }
  | { readonly kind: 'failed'; readonly failure: Failure };

export const failureOf = (error: unknown): Failure =>
  error instanceof Failure ? error : new Failure('answer-unreadable');

/** Asks, and puts what comes of it into a signal; a newer question takes the place of an older one. */
export const asking = <T>(): {
  readonly answer: Signal<Asked<T> | null>;
  ask: (job: () => Promise<T>) => Promise<void>;
} => {
  const answer = signal<Asked<T> | null>(null);
  let newest = 0;
  return {
    answer,
    ask: async (job) => {
      newest += 1;
      const mine = newest;
      if (answer.peek()?.kind !== 'here') answer.value = { kind: 'waiting' };
      try {
        const value = await job();
        if (mine === newest) answer.value = { kind: 'here', value };
      } catch (error) {
        if (mine === newest) answer.value = { kind: 'failed', failure: failureOf(error) };
      }
    },
  };
};
