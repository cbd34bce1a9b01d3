/**
 * The network's answer where it comes in time, else what was kept of before; where nothing was kept, the network is
 * waited for however long it takes. Null where there is neither.
 */
export const inTime = async <T>(
  fromNetwork: Promise<T>,
  kept: () => Promise<T | undefined>,
  patienceMs: number,
): Promise<T | null> => {
  const asked = fromNetwork.catch(() => null);
  let timer: ReturnType<typeof setTimeout> | undefined;
  const tired = new Promise<null>((settle) => {
    timer = setTimeout(settle, patienceMs, null);
  });
  const soon = await Promise.race([asked, tired]);
  clearTimeout(timer);
  return soon ?? (await kept()) ?? asked;
};
