/** How much of the memory all uploads together may have at once, through whichever door. */
export interface Uploads {
  /** Sets room aside; null where there is not enough. The result gives it back. */
  reserve(bytes: number): (() => void) | null;
}

export const createUploads = (mostBytes: number): Uploads => {
  let taken = 0;
  return {
    reserve(bytes) {
      if (taken + bytes > mostBytes) return null;
      taken += bytes;
      let held = true;
      return () => {
        if (held) taken -= bytes;
        held = false;
      };
    },
  };
};
