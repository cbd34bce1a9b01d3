/** Things kept under keys for a while: the longest unused goes first, and all go when nobody asks for them. */
export interface BoundedMemory<T> {
  get(key: string): T | undefined;
  /** Keeps a thing that takes so many bytes; one that alone is more than there is room for is not kept. */
  put(key: string, value: T, bytes: number): void;
}

export interface MemoryBounds {
  readonly mostBytes: number;
  /** How long a thing stays that nobody asks for. */
  readonly forMs: number;
}

export const createBoundedMemory = <T>({ mostBytes, forMs }: MemoryBounds): BoundedMemory<T> => {
  const kept = new Map<
    string,
    { readonly value: T; readonly bytes: number; readonly going: NodeJS.Timeout }
  >();
  let taken = 0;

  const drop = (key: string): void => {
    const one = kept.get(key);
    if (!one) return;
    clearTimeout(one.going);
    taken -= one.bytes;
    kept.delete(key);
  };
  const lay = (key: string, value: T, bytes: number): void => {
    const going = setTimeout(() => drop(key), forMs).unref();
    kept.set(key, { value, bytes, going });
    taken += bytes;
  };

  return {
    get(key) {
      const one = kept.get(key);
      if (!one) return undefined;
      drop(key);
      lay(key, one.value, one.bytes);
      return one.value;
    },
    put(key, value, bytes) {
      drop(key);
      if (bytes > mostBytes) return;
      for (const oldest of kept.keys()) {
        if (taken + bytes <= mostBytes) break;
        drop(oldest);
      }
      lay(key, value, bytes);
    },
  };
};
