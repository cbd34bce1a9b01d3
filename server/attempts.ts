export interface AttemptLimits {
  /** Attempts that one caller has within the window. */
  readonly each: number;
  /** Attempts that all callers have together within the window. */
  readonly together: number;
  readonly windowMs: number;
}

/** Counts attempts, so that nobody can go through many codes. */
export interface Attempts {
  /** Counts one attempt. Milliseconds until there is another one when this one is too many, else null. */
  take(caller: string): number | null;
}

export const createAttempts = (limits: AttemptLimits, now: () => number): Attempts => {
  let taken: readonly { readonly at: number; readonly caller: string }[] = [];
  return {
    take(caller) {
      const at = now();
      taken = taken.filter((one) => at - one.at < limits.windowMs);
      const own = taken.filter((one) => one.caller === caller);
      const full = own.length >= limits.each ? own : taken.length >= limits.together ? taken : null;
      // What is turned down isn't counted: one caller can't use up what the others have, nor fill the memory.
      if (full) return full[0].at + limits.windowMs - at;
      taken = [...taken, { at, caller }];
      return null;
    },
  };
};
