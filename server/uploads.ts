/** How much of the memory all uploads together may have at once, through whichever door. */
export interface Uploads {
  /**
   * Sets room aside; null where there is not enough, or where one phone would have more than its share. The result gives
   * it back.
   */
  reserve(bytes: number, phone?: string): (() => void) | null;
}

/** Uploads that creep along must not keep the other phones out. */
const MOST_OF_ONE_PHONE = 0.25;

export const createUploads = (mostBytes: number): Uploads => {
  const ofPhone = new Map<string, number>();
  let taken = 0;
  return {
    reserve(bytes, phone) {
      const own = phone === undefined ? 0 : (ofPhone.get(phone) ?? 0);
      if (taken + bytes > mostBytes) return null;
      // One upload is always let in, however small the room.
      if (phone !== undefined && own > 0 && own + bytes > MOST_OF_ONE_PHONE * mostBytes) return null;
      taken += bytes;
      if (phone !== undefined) ofPhone.set(phone, own + bytes);
      let held = true;
      return () => {
        if (!held) return;
        held = false;
        taken -= bytes;
        if (phone === undefined) return;
        const left = (ofPhone.get(phone) ?? 0) - bytes;
        if (left > 0) ofPhone.set(phone, left);
        else ofPhone.delete(phone);
      };
    },
  };
};
